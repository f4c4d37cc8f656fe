package pourwright.sound;

/** Turns a signal into samples: soft attack, four harmonics, a tail that fades. */
final class Synthesis {
  static final int SAMPLES_PER_SECOND = 44_100;

  /** Within 15 dB of each other, so that a speaker without bass is heard too. */
  private static final double[] HARMONICS = {1, 0.56, 0.36, 0.22};

  private static final double ATTACK_SECONDS = 0.006;

  /** All harmonics together stay below full scale. */
  private static final double LOUDEST = 0.45;

  private Synthesis() {}

  /**
   * One channel of signed 16-bit samples, little-endian.
   *
   * @param volume from 0 to 1
   */
  static byte[] pcm(Signal signal, double volume) {
    int samples = signal.lengthMillis() * SAMPLES_PER_SECOND / 1000 + 1;
    double[] wave = new double[samples];
    for (Note note : signal.notes()) {
      add(wave, note);
    }
    byte[] bytes = new byte[2 * samples];
    for (int i = 0; i < samples; i++) {
      int value = (int) Math.rint(wave[i] * volume * LOUDEST * Short.MAX_VALUE);
      bytes[2 * i] = (byte) value;
      bytes[2 * i + 1] = (byte) (value >> 8);
    }
    return bytes;
  }

  private static void add(double[] wave, Note note) {
    int from = note.atMillis() * SAMPLES_PER_SECOND / 1000;
    int length = note.forMillis() * SAMPLES_PER_SECOND / 1000;
    for (int i = 0; i < length && from + i < wave.length; i++) {
      double time = i / (double) SAMPLES_PER_SECOND;
      double left = (length - i) / (double) SAMPLES_PER_SECOND;
      double envelope =
          Math.min(1, time / ATTACK_SECONDS)
              * Math.min(1, left / (0.45 * note.forMillis() / 1000.0));
      double tone = 0;
      for (int h = 0; h < HARMONICS.length; h++) {
        tone += HARMONICS[h] * Math.sin(2 * Math.PI * note.hertz() * (h + 1) * time);
      }
      wave[from + i] += envelope * tone / 2.14;
    }
  }
}
