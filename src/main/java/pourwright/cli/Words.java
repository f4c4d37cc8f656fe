package pourwright.cli;

import java.time.Duration;
import java.util.Locale;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Numbers as a brewer reads them: tenths, with their unit, the same everywhere. */
final class Words {
  private Words() {}

  static String grams(Mass mass) {
    return String.format(Locale.ROOT, "%.1f g", rounded(mass.grams()));
  }

  /** With its sign, for errors. */
  static String signedGrams(Mass mass) {
    return String.format(Locale.ROOT, "%+.1f g", rounded(mass.grams()));
  }

  static String seconds(Duration span) {
    return String.format(Locale.ROOT, "%.1f s", rounded(span.toNanos() / 1e9));
  }

  static String signedSeconds(Duration span) {
    return String.format(Locale.ROOT, "%+.1f s", rounded(span.toNanos() / 1e9));
  }

  static String seconds(SessionTime time) {
    return String.format(Locale.ROOT, "%.1f s", rounded(time.seconds()));
  }

  static String flow(Flow flow) {
    return String.format(Locale.ROOT, "%.1f g/s", rounded(flow.gramsPerSecond()));
  }

  static String signedFlow(Flow flow) {
    return String.format(Locale.ROOT, "%+.1f g/s", rounded(flow.gramsPerSecond()));
  }

  /** Minutes and seconds: {@code 1:05}. */
  static String clock(SessionTime time) {
    long seconds = Math.round(Math.floor(time.seconds()));
    String sign = seconds < 0 ? "-" : "";
    return String.format(
        Locale.ROOT, "%s%d:%02d", sign, Math.abs(seconds) / 60, Math.abs(seconds) % 60);
  }

  /** To tenths, without a negative zero. */
  private static double rounded(double value) {
    double tenths = Math.rint(value * 10) / 10;
    return tenths == 0 ? 0.0 : tenths;
  }
}
