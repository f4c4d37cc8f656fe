package pourwright.device.ble;

import java.util.List;

/**
 * What a probe saw of one break of a link and its mending, read from what it and the script said.
 *
 * <p>Both tell seconds of one monotonic clock: the script {@code event T NAME begins}, {@code
 * mended}, {@code ends}; the probe {@code lost T last T why ...}, {@code back T}, and {@code stood
 * T for S} when the machine or the probe's process stood still.
 *
 * @param lossSeenSeconds from the last weight until the loss was told, less the time that the probe
 *     could not run
 * @param backSeconds from the mending until weights came again; 0 when they came before that was
 *     told
 */
record LifeCase(String name, double lossSeenSeconds, double backSeconds) {
  /** The script may be slow to tell that it has mended something. */
  private static final double TELLING_SECONDS = 1.0;

  static LifeCase of(List<String> said, String name) {
    List<String> whole = said.subList(at(said, name + " begins"), at(said, name + " ends"));
    String lost = first(whole, "lost ");
    double lostAt = number(lost, 1);
    double lastAt = number(lost, 3);
    double stoodSeconds =
        said.stream()
            .filter(line -> line.startsWith("stood "))
            .mapToDouble(line -> overlap(number(line, 1), number(line, 3), lastAt, lostAt))
            .sum();
    double mendedAt = number(said.get(at(said, name + " mended")), 1);
    double backAt =
        whole.stream()
            .filter(line -> line.startsWith("back "))
            .mapToDouble(line -> number(line, 1))
            .filter(time -> time >= lostAt && time >= mendedAt - TELLING_SECONDS)
            .findFirst()
            .orElseThrow(() -> new AssertionError(name + " was not back"));
    return new LifeCase(name, lostAt - lastAt - stoodSeconds, Math.max(0, backAt - mendedAt));
  }

  private static double overlap(double endAt, double seconds, double from, double to) {
    return Math.max(0, Math.min(endAt, to) - Math.max(endAt - seconds, from));
  }

  private static int at(List<String> said, String words) {
    for (int i = 0; i < said.size(); i++) {
      if (said.get(i).startsWith("event ") && said.get(i).endsWith(" " + words)) {
        return i;
      }
    }
    throw new AssertionError(words + " in\n" + String.join("\n", said));
  }

  private static String first(List<String> said, String start) {
    return said.stream()
        .filter(line -> line.startsWith(start))
        .findFirst()
        .orElseThrow(() -> new AssertionError(start + " in\n" + String.join("\n", said)));
  }

  private static double number(String line, int word) {
    return Double.parseDouble(line.split(" ", -1)[word]);
  }
}
