package pourwright.sound;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class SignalTest {
  /** What is left when pitch is not heard: how long each tone and each rest is, in 40 ms steps. */
  private static List<Integer> rhythm(Signal signal) {
    List<Integer> steps = new ArrayList<>();
    int end = 0;
    for (Note note : signal.notes()) {
      steps.add(Math.round((note.atMillis() - end) / 40f));
      steps.add(Math.round(note.forMillis() / 40f));
      end = note.endMillis();
    }
    return steps;
  }

  @Test
  void no_two_signals_share_a_rhythm() {
    Set<List<Integer>> seen = new HashSet<>();
    for (Signal signal : Signal.values()) {
      assertThat(seen.add(rhythm(signal))).as("%s %s", signal, rhythm(signal)).isTrue();
    }
  }

  @ParameterizedTest
  @EnumSource
  void notes_follow_one_another_within_the_range_that_is_heard(Signal signal) {
    int end = 0;
    for (Note note : signal.notes()) {
      assertThat(note.atMillis()).isGreaterThanOrEqualTo(end);
      assertThat(note.hertz()).isBetween(150.0, 1000.0);
      end = note.endMillis();
    }
    assertThat(signal.notes().get(0).atMillis()).isZero();
    assertThat(end).isLessThanOrEqualTo(1000);
  }

  @ParameterizedTest
  @EnumSource
  void samples_are_as_long_as_the_signal_loud_enough_and_never_clipped(Signal signal) {
    byte[] pcm = Synthesis.pcm(signal, 1);
    assertThat(pcm.length / 2)
        .isEqualTo(signal.lengthMillis() * Synthesis.SAMPLES_PER_SECOND / 1000 + 1);
    int loudest = 0;
    for (int i = 0; i < pcm.length; i += 2) {
      loudest = Math.max(loudest, Math.abs((short) ((pcm[i] & 0xff) | (pcm[i + 1] << 8))));
    }
    assertThat(loudest).isBetween(6_000, Short.MAX_VALUE - 1);
    assertThat(Synthesis.pcm(signal, 0)).containsOnly(0);
  }

  @Test
  void the_pitch_is_that_of_the_note() {
    byte[] pcm = Synthesis.pcm(Signal.TALK, 1);
    Note note = Signal.TALK.notes().get(0);
    assertThat(power(pcm, note.hertz())).isGreaterThan(20 * power(pcm, note.hertz() * 1.5));
  }

  /** Goertzel's single line of the spectrum. */
  private static double power(byte[] pcm, double hertz) {
    double re = 0;
    double im = 0;
    for (int i = 0; i < pcm.length / 2; i++) {
      double sample = (short) ((pcm[2 * i] & 0xff) | (pcm[2 * i + 1] << 8));
      double angle = 2 * Math.PI * hertz * i / Synthesis.SAMPLES_PER_SECOND;
      re += sample * Math.cos(angle);
      im += sample * Math.sin(angle);
    }
    return re * re + im * im;
  }

  @Test
  void a_loudspeaker_plays_what_it_is_given_and_closes_its_sink() throws Exception {
    CountDownLatch played = new CountDownLatch(2);
    CountDownLatch closed = new CountDownLatch(1);
    Loudspeaker.Sink sink =
        new Loudspeaker.Sink() {
          @Override
          public void play(byte[] pcm) {
            played.countDown();
          }

          @Override
          public void close() {
            closed.countDown();
          }
        };
    Loudspeaker speaker = Loudspeaker.of(1, () -> Optional.of(sink));
    speaker.play(Signal.START);
    speaker.play(Signal.STOP);
    assertThat(played.await(10, TimeUnit.SECONDS)).isTrue();
    speaker.close();
    assertThat(closed.await(10, TimeUnit.SECONDS)).isTrue();
  }

  @Test
  void a_machine_without_sound_stays_silent_and_goes_on() throws Exception {
    CountDownLatch asked = new CountDownLatch(2);
    try (Loudspeaker speaker =
        Loudspeaker.of(
            1,
            () -> {
              asked.countDown();
              return Optional.empty();
            })) {
      speaker.play(Signal.START);
      speaker.play(Signal.STOP);
      assertThat(asked.await(10, TimeUnit.SECONDS)).isTrue();
    }
  }
}
