package pourwright.plan;

import java.math.BigDecimal;
import java.time.Duration;
import java.util.Locale;
import java.util.regex.Pattern;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Writes plan files as a person would lay them out; reading one back gives the same plan.
 *
 * <p>The same plan always gives the same text, so files can be compared line by line.
 */
public final class PlanWriter {
  /** Text that YAML takes as it stands; anything else is written in quotes. */
  private static final Pattern PLAIN = Pattern.compile("[A-Za-z][A-Za-z0-9 ,.()/+-]*[A-Za-z0-9.)]");

  private static final Pattern WORD_OF_YAML =
      Pattern.compile("null|true|false|yes|no|on|off", Pattern.CASE_INSENSITIVE);

  private PlanWriter() {}

  /** All of a plan file, ending with a line break. */
  public static String write(Plan plan) {
    StringBuilder out = new StringBuilder();
    line(out, "format", "1");
    line(out, "title", text(plan.title()));
    line(out, "dose_g", number(plan.dose()));
    line(out, "water_g", number(plan.water()));
    plan.waterTemperatureCelsius().ifPresent(celsius -> line(out, "water_temp_c", number(celsius)));
    plan.targetStrengthPercent()
        .ifPresent(percent -> line(out, "target_strength_pct", number(percent)));
    line(out, "rig", plan.rig().word());
    plan.dripper().ifPresent(mass -> line(out, "dripper_g", number(mass)));
    plan.server().ifPresent(mass -> line(out, "server_g", number(mass)));
    line(out, "tolerance", tolerance(plan.tolerance()));
    out.append("pours:\n");
    plan.pours().forEach(pour -> out.append("  - ").append(pour(pour)).append('\n'));
    if (!plan.talk().isEmpty()) {
      out.append("talk:\n");
      plan.talk().forEach(mark -> out.append("  - ").append(talk(mark)).append('\n'));
    }
    return out.toString();
  }

  private static void line(StringBuilder out, String key, String value) {
    out.append(key).append(": ").append(value).append('\n');
  }

  private static String tolerance(Tolerance tolerance) {
    return "{mass_g: %s, start_s: %s, flow_g_per_s: %s}"
        .formatted(number(tolerance.mass()), number(tolerance.start()), number(tolerance.flow()));
  }

  private static String pour(PlannedPour pour) {
    return "{add_g: %s, flow_g_per_s: %s, start: %s}"
        .formatted(number(pour.add()), number(pour.flow()), start(pour.start()));
  }

  private static String start(Start start) {
    if (start instanceof Start.AtClock clock) {
      return "{at_s: " + number(clock.at()) + "}";
    }
    if (start instanceof Start.AfterEnd after) {
      return "{after_end_s: " + number(after.gap()) + "}";
    }
    return "{when: drained, at_s: " + number(((Start.WhenDrained) start).expected()) + "}";
  }

  private static String talk(TalkMark mark) {
    return "{at_s: " + number(mark.at()) + ", say: " + quoted(mark.say()) + "}";
  }

  private static String number(Mass mass) {
    return billionths(mass.nanograms());
  }

  private static String number(Flow flow) {
    return billionths(flow.nanogramsPerSecond());
  }

  private static String number(SessionTime at) {
    return billionths(at.nanos());
  }

  private static String number(Duration span) {
    return billionths(span.toNanos());
  }

  private static String number(double value) {
    return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }

  private static String billionths(long count) {
    return BigDecimal.valueOf(count, 9).stripTrailingZeros().toPlainString();
  }

  private static String text(String text) {
    return PLAIN.matcher(text).matches() && !WORD_OF_YAML.matcher(text).matches()
        ? text
        : quoted(text);
  }

  private static String quoted(String text) {
    StringBuilder out = new StringBuilder("\"");
    text.codePoints()
        .forEach(
            point -> {
              if (point == '"' || point == '\\') {
                out.append('\\').appendCodePoint(point);
              } else if (point < 0x20 || (point >= 0x7F && point < 0xA0) || !prints(point)) {
                out.append(
                    point <= 0xFFFF
                        ? String.format(Locale.ROOT, "\\u%04X", point)
                        : String.format(Locale.ROOT, "\\U%08X", point));
              } else {
                out.appendCodePoint(point);
              }
            });
    return out.append('"').toString();
  }

  /** Whether a character may stand in YAML text as it is, without being a line break there. */
  private static boolean prints(int point) {
    boolean isMark = point == 0x2028 || point == 0x2029 || point == 0xFEFF;
    boolean isSurrogateOrNone =
        (point >= 0xD800 && point <= 0xDFFF) || point == 0xFFFE || point == 0xFFFF;
    return !isMark && !isSurrogateOrNone;
  }
}
