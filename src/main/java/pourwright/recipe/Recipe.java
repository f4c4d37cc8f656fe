package pourwright.recipe;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.plan.Tolerance;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * A recipe in the brewer's own terms: an opening share in two pours, the rest in closing pours.
 * Common practice, no source: an opening share of about 40 %.
 *
 * @param dose dry coffee, positive
 * @param water all of it, positive
 * @param openingShare part of the water in the first two pours, above 0, at most 1 (then there are
 *     no closing pours)
 * @param firstPour mass of the very first pour, positive, at most the opening; equal to it when the
 *     opening is one pour
 * @param closingPours how many pours share the rest equally
 * @param flow of every pour, positive
 * @param step what the scale can show; every pour but the last is a multiple of it, positive
 */
public record Recipe(
    String title,
    Mass dose,
    Mass water,
    double openingShare,
    Mass firstPour,
    int closingPours,
    Flow flow,
    Pace pace,
    Mass step,
    OptionalDouble waterTemperatureCelsius,
    OptionalDouble targetStrengthPercent,
    Rig rig,
    Tolerance tolerance) {

  /** Two pours closer than this cannot be told apart. */
  private static final Duration LEAST_GAP = Duration.ofSeconds(3);

  /** Water that goes with a dose at one part of coffee to {@code ratio} parts of water. */
  public static Mass waterFor(Mass dose, double ratio) {
    return Mass.ofGrams(dose.grams() * ratio);
  }

  /** Parts of water to one part of coffee. */
  public double ratio() {
    return water.grams() / dose.grams();
  }

  /** Everything that stands in the way of a plan, in plain words; empty when nothing does. */
  public List<String> problems() {
    List<String> found = new ArrayList<>();
    requirePositive(dose, "the dose", found);
    requirePositive(water, "the water", found);
    requirePositive(step, "the step of the scale", found);
    if (flow.compareTo(Flow.ZERO) <= 0) {
      found.add("the flow must be more than zero, it is " + flow);
    }
    if (!(openingShare > 0 && openingShare <= 1)) {
      found.add("the opening share must lie between 0 and 100 %, it is " + percent(openingShare));
    }
    if (closingPours < 0 || closingPours > 20) {
      found.add("0 to 20 closing pours can be planned, not " + closingPours);
    }
    if (!found.isEmpty()) {
      return found;
    }
    requirePositive(firstPour, "the first pour", found);
    Mass opening = opening();
    if (firstPour.compareTo(opening) > 0) {
      found.add("the first pour of " + firstPour + " is more than the opening of " + opening);
    }
    if (closingPours == 0 && openingShare < 1) {
      found.add(
          "without closing pours the opening must be 100 % of the water, it is "
              + percent(openingShare));
    }
    if (closingPours > 0 && openingShare == 1) {
      found.add("an opening of 100 % leaves no water for " + closingPours + " closing pours");
    }
    if (found.isEmpty()) {
      List<Mass> parts = split();
      for (int i = 0; i < parts.size(); i++) {
        if (parts.get(i).compareTo(Mass.ZERO) <= 0) {
          found.add("pour " + (i + 1) + " would be " + parts.get(i) + ": make fewer pours");
        }
        Duration length = new PlannedPour(i + 1, parts.get(i), flow, FIRST).length();
        if (i + 1 < parts.size() && length.plus(LEAST_GAP).compareTo(pace.interval()) > 0) {
          found.add(
              String.format(
                  java.util.Locale.ROOT,
                  "pour %d takes %.1f s and the next starts %.1f s after its start; leave at least"
                      + " %d s between pours, pour faster or wait longer",
                  i + 1,
                  length.toMillis() / 1000.0,
                  pace.interval().toMillis() / 1000.0,
                  LEAST_GAP.toSeconds()));
        }
      }
    }
    return found;
  }

  /**
   * The plan; its pours always add up to the water.
   *
   * @throws IllegalStateException when {@link #problems} has any
   */
  public Plan toPlan() {
    List<String> problems = problems();
    if (!problems.isEmpty()) {
      throw new IllegalStateException(String.join("; ", problems));
    }
    List<PlannedPour> pours = new ArrayList<>();
    List<Mass> parts = split();
    for (int i = 0; i < parts.size(); i++) {
      pours.add(new PlannedPour(i + 1, parts.get(i), flow, startOf(i)));
    }
    return new Plan(
        title,
        dose,
        water,
        waterTemperatureCelsius,
        targetStrengthPercent,
        rig,
        Optional.empty(),
        Optional.empty(),
        tolerance,
        pours,
        List.of());
  }

  private static final Start FIRST = new Start.AtClock(SessionTime.ZERO);

  private Start startOf(int position) {
    if (position == 0) {
      return FIRST;
    }
    SessionTime at = SessionTime.ZERO.plus(pace.interval().multipliedBy(position));
    return pace instanceof Pace.WhenDrained ? new Start.WhenDrained(at) : new Start.AtClock(at);
  }

  /** Water of the opening, to the step of the scale. */
  public Mass opening() {
    return rounded(
        BigDecimal.valueOf(water.nanograms()).multiply(BigDecimal.valueOf(openingShare)));
  }

  /** Masses of the pours, each a multiple of the step except that the last takes what is left. */
  private List<Mass> split() {
    List<Mass> parts = new ArrayList<>();
    Mass opening = openingShare == 1 ? water : opening();
    parts.add(firstPour);
    if (firstPour.compareTo(opening) < 0) {
      parts.add(opening.minus(firstPour));
    }
    Mass rest = water.minus(opening);
    Mass given = Mass.ZERO;
    for (int i = 1; i <= closingPours; i++) {
      // rounding the running total, not each pour, keeps every pour within a step of the rest
      Mass until =
          i == closingPours
              ? rest
              : rounded(
                  BigDecimal.valueOf(rest.nanograms())
                      .multiply(BigDecimal.valueOf(i))
                      .divide(BigDecimal.valueOf(closingPours), 3, RoundingMode.HALF_EVEN));
      parts.add(until.minus(given));
      given = until;
    }
    return parts;
  }

  private Mass rounded(BigDecimal nanograms) {
    BigDecimal steps =
        nanograms.divide(BigDecimal.valueOf(step.nanograms()), 0, RoundingMode.HALF_UP);
    return Mass.ofNanograms(steps.longValueExact() * step.nanograms());
  }

  private static void requirePositive(Mass mass, String what, List<String> found) {
    if (mass.compareTo(Mass.ZERO) <= 0) {
      found.add(what + " must be more than zero, it is " + mass);
    }
  }

  private static String percent(double share) {
    return BigDecimal.valueOf(share * 100).setScale(1, RoundingMode.HALF_UP) + " %";
  }
}
