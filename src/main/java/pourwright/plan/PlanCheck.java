package pourwright.plan;

import java.math.BigDecimal;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.snakeyaml.engine.v2.nodes.Node;
import pourwright.plan.PlanReader.PlacedPours;
import pourwright.plan.Schedule.Slot;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** What must hold between the values of a plan, and what is unusual about them. */
final class PlanCheck {
  /** Two pours closer than this are one to every detector (file format). */
  private static final Duration GAP_MIN = Duration.ofSeconds(3);

  /** A bed that drains slower than this after the last pour would be a fault. */
  private static final Duration LAST_DRAWDOWN_MAX = Duration.ofMinutes(3);

  // Common practice, no source.
  private static final double DOSE_GRAMS_LOW = 12;
  private static final double DOSE_GRAMS_HIGH = 30;
  private static final double RATIO_LOW = 13;
  private static final double RATIO_HIGH = 17;
  private static final double CELSIUS_LOW = 88;
  private static final double CELSIUS_HIGH = 96;
  private static final double STRENGTH_LOW = 1.2;
  private static final double STRENGTH_HIGH = 1.5;
  private static final double FLOW_LOW = 1;
  private static final double FLOW_HIGH = 15;

  private final Problems problems;

  PlanCheck(Problems problems) {
    this.problems = problems;
  }

  /** The pours must use up the water, exactly. */
  void water(Node place, Mass water, PlacedPours pours) {
    if (!pours.complete()) {
      return;
    }
    Mass sum = pours.pours().stream().map(PlannedPour::add).reduce(Mass.ZERO, Mass::plus);
    int order = sum.compareTo(water);
    if (order != 0) {
      problems.error(
          place,
          String.format(
              "the pours sum to %s, %s %s than the water of %s",
              sum, sum.minus(water).abs(), order > 0 ? "more" : "less", water),
          "write water_g: " + bare(sum.toString()) + ", or change a pour by the difference");
    }
  }

  /** Pours must follow one another, the first one with the first water. */
  void pours(PlacedPours placed) {
    if (!placed.complete()) {
      return;
    }
    List<Slot> slots = Schedule.layOut(placed.pours());
    first(slots.get(0), placed.places().get(0));
    for (int i = 1; i < slots.size(); i++) {
      gap(slots.get(i - 1), slots.get(i), placed.places().get(i));
    }
    for (Slot slot : slots) {
      double flow = slot.pour().flow().gramsPerSecond();
      if (flow < FLOW_LOW || flow > FLOW_HIGH) {
        problems.warn(
            placed.places().get(slot.pour().index() - 1).placeOf("flow_g_per_s"),
            "pour " + slot.pour().index() + " flows at " + slot.pour().flow(),
            "a hand with a kettle pours " + range(FLOW_LOW, FLOW_HIGH, "g/s"));
      }
    }
  }

  private void first(Slot slot, Fields place) {
    Start start = slot.pour().start();
    if (!(start instanceof Start.AtClock)) {
      problems.error(
          place.placeOf("start"),
          "pour 1 waits for a pour before it",
          "the first pour starts the clock: {at_s: 0}");
    } else if (slot.start().isAfter(SessionTime.ZERO)) {
      problems.warn(
          place.placeOf("start"),
          "pour 1 starts at " + slot.start(),
          "the clock starts with its first water, and will start at that time");
    }
  }

  private void gap(Slot before, Slot slot, Fields place) {
    Duration gap = slot.start().since(before.end());
    String name = "pour " + slot.pour().index();
    String previous = "pour " + before.pour().index();
    if (gap.isNegative()) {
      problems.error(
          place.placeOf("start"),
          String.format(
              "%s starts at %s, %s before %s ends",
              name, shown(slot.start()), shown(gap.negated()), previous),
          "start it at " + shown(before.end()) + " or later");
    } else if (gap.compareTo(GAP_MIN) < 0) {
      problems.warn(
          place.placeOf("start"),
          String.format("%s starts only %s after %s ends", name, shown(gap), previous),
          "with less than 3 s between them the scale shows one pour; leave more, or make them one");
    }
  }

  /** Talk marks come in order, while there is something to watch. */
  void talk(Node place, List<TalkMark> before, TalkMark mark, PlacedPours pours) {
    if (!before.isEmpty()) {
      SessionTime previous = before.get(before.size() - 1).at();
      if (mark.at().isBefore(previous)) {
        problems.error(
            place,
            "this talk mark at " + mark.at() + " comes after one at " + previous,
            "put the marks in order of time");
      }
    }
    if (!pours.complete()) {
      return;
    }
    List<Slot> slots = Schedule.layOut(pours.pours());
    SessionTime end = slots.get(slots.size() - 1).end();
    if (mark.at().isAfter(end.plus(LAST_DRAWDOWN_MAX))) {
      problems.warn(
          place,
          "this talk mark at " + mark.at() + " may come when the run is over",
          "the last pour ends at " + shown(end));
    }
  }

  /** Legal values that the trade would wonder at. */
  void oddities(
      Fields fields,
      Optional<Mass> dose,
      Optional<Mass> water,
      Optional<BigDecimal> temperature,
      Optional<BigDecimal> strength) {
    dose.ifPresent(
        mass ->
            unusual(
                fields,
                "dose_g",
                mass.grams(),
                mass.toString(),
                DOSE_GRAMS_LOW,
                DOSE_GRAMS_HIGH,
                "g"));
    temperature.ifPresent(
        celsius ->
            unusual(
                fields,
                "water_temp_c",
                celsius.doubleValue(),
                celsius.toPlainString() + " °C",
                CELSIUS_LOW,
                CELSIUS_HIGH,
                "°C"));
    strength.ifPresent(
        percent ->
            unusual(
                fields,
                "target_strength_pct",
                percent.doubleValue(),
                percent.toPlainString() + " %",
                STRENGTH_LOW,
                STRENGTH_HIGH,
                "%"));
    if (dose.isPresent() && water.isPresent()) {
      double ratio = water.get().grams() / dose.get().grams();
      if (ratio < RATIO_LOW || ratio > RATIO_HIGH) {
        problems.warn(
            fields.placeOf("water_g"),
            String.format(Locale.ROOT, "water to coffee is 1:%.1f", ratio),
            "common is 1:13 to 1:17");
      }
    }
  }

  private void unusual(
      Fields fields, String key, double value, String shown, double low, double high, String unit) {
    if (value < low || value > high) {
      problems.warn(
          fields.placeOf(key), "'" + key + "' is " + shown, "common is " + range(low, high, unit));
    }
  }

  private static String range(double low, double high, String unit) {
    return bare(low) + " to " + bare(high) + " " + unit;
  }

  private static String bare(double number) {
    return BigDecimal.valueOf(number).stripTrailingZeros().toPlainString();
  }

  private static String bare(String withUnit) {
    return withUnit.substring(0, withUnit.indexOf(' '));
  }

  /** To the tenth of a second: enough to act on. */
  private static String shown(SessionTime at) {
    return shown(at.since(SessionTime.ZERO));
  }

  private static String shown(Duration span) {
    return String.format(Locale.ROOT, "%.1f s", span.toNanos() / 1e9);
  }
}
