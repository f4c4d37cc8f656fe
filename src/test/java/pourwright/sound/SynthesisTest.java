package pourwright.sound;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Every note of every signal is where it should be, as high and as loud as it should be. */
class SynthesisTest {
  private static final double RATE = Synthesis.SAMPLES_PER_SECOND;

  private static int sampleAt(double millis) {
    return (int) (millis * RATE / 1000);
  }

  private static double[] wave(Signal signal) {
    byte[] pcm = Synthesis.pcm(signal, 1);
    double[] wave = new double[pcm.length / 2];
    for (int i = 0; i < wave.length; i++) {
      wave[i] = (short) ((pcm[2 * i] & 0xff) | (pcm[2 * i + 1] << 8));
    }
    return wave;
  }

  /** Amplitude of one line of the spectrum, through a Hann window. */
  private static double amplitude(double[] wave, int from, int to, double hertz) {
    double re = 0;
    double im = 0;
    double weights = 0;
    for (int i = from; i < to; i++) {
      double weight = 1 - Math.cos(2 * Math.PI * (i - from) / (to - from));
      double angle = 2 * Math.PI * hertz * i / RATE;
      re += weight * wave[i] * Math.cos(angle);
      im += weight * wave[i] * Math.sin(angle);
      weights += weight;
    }
    return 2 * Math.hypot(re, im) / weights;
  }

  @ParameterizedTest
  @EnumSource
  void every_note_sounds_at_its_pitch_with_its_harmonics(Signal signal) {
    double[] wave = wave(signal);
    for (Note note : signal.notes()) {
      // Between the attack and the fading tail the note is as loud as it gets.
      int from = sampleAt(note.atMillis() + 6);
      int to = sampleAt(note.atMillis() + 0.55 * note.forMillis());
      double fundamental = amplitude(wave, from, to, note.hertz());
      assertThat(fundamental).as(signal + " " + note).isCloseTo(6_890, within(350.0));
      double[] shares = {1, 0.56, 0.36, 0.22};
      for (int h = 1; h < shares.length; h++) {
        assertThat(amplitude(wave, from, to, note.hertz() * (h + 1)) / fundamental)
            .as(signal + " " + note + " harmonic " + (h + 1))
            .isCloseTo(shares[h], within(0.06));
      }
    }
  }

  @ParameterizedTest
  @EnumSource
  void notes_begin_and_end_softly_with_silence_between_them(Signal signal) {
    double[] wave = wave(signal);
    int end = 0;
    for (Note note : signal.notes()) {
      int start = sampleAt(note.atMillis());
      for (int i = end; i <= start; i++) {
        assertThat(wave[i]).as("silence before " + note).isZero();
      }
      double full = loudest(wave, sampleAt(note.atMillis() + 6), sampleAt(note.atMillis() + 20));
      assertThat(loudest(wave, start, sampleAt(note.atMillis() + 1)))
          .as("attack of " + note)
          .isLessThan(0.25 * full);
      end = start + note.forMillis() * Synthesis.SAMPLES_PER_SECOND / 1000;
      int late = sampleAt(note.atMillis() + 0.955 * note.forMillis());
      assertThat(loudest(wave, late, end)).as("tail of " + note).isLessThan(0.13 * full);
      int half = sampleAt(note.atMillis() + 0.775 * note.forMillis());
      int period = (int) Math.ceil(RATE / note.hertz());
      assertThat(loudest(wave, half - period / 2, half + period / 2))
          .as("half of the tail of " + note)
          .isBetween(0.4 * full, 0.75 * full);
    }
    assertThat(wave[wave.length - 1]).isZero();
  }

  private static double loudest(double[] wave, int from, int to) {
    double loudest = 0;
    for (int i = from; i < to; i++) {
      loudest = Math.max(loudest, Math.abs(wave[i]));
    }
    return loudest;
  }
}
