package pourwright.stage;

import java.util.Locale;

/** Writes seconds of the stage clock as a brewer reads them. */
public final class Clock {
  private Clock() {}

  /** Minutes and seconds: {@code 4:05}. */
  public static String words(int seconds) {
    return String.format(Locale.ROOT, "%d:%02d", seconds / 60, seconds % 60);
  }
}
