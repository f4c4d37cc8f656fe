package pourwright.recipe;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
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
 * @param closingSplit one positive number for each closing pour: the rest is shared in these
 *     proportions
 * @param flow of every pour, positive
 * @param step what the scale can show; every pour but the last is a multiple of it, positive
 */
public record Recipe(
    String title,
    Mass dose,
    Mass water,
    double openingShare,
    Mass firstPour,
    List<Double> closingSplit,
    Flow flow,
    Pace pace,
    Mass step,
    OptionalDouble waterTemperatureCelsius,
    OptionalDouble targetStrengthPercent,
    Rig rig,
    Tolerance tolerance) {

  /** Two pours closer than this cannot be told apart. */
  private static final Duration LEAST_GAP = Duration.ofSeconds(3);

  private static final int MOST_CLOSING_POURS = 20;

  /** Water that a scale with this step shows for one part of coffee to {@code ratio} of water. */
  public static Mass waterFor(Mass dose, double ratio, Mass step) {
    return rounded(BigDecimal.valueOf(dose.nanograms()).multiply(BigDecimal.valueOf(ratio)), step);
  }

  /** Common practice, no source: 50 g of an opening of 120 g. */
  public static Mass usualFirstPour(Mass water, double openingShare, Mass step) {
    return rounded(
        BigDecimal.valueOf(water.nanograms())
            .multiply(BigDecimal.valueOf(openingShare))
            .multiply(BigDecimal.valueOf(5))
            .divide(BigDecimal.valueOf(12), RoundingMode.HALF_UP),
        step);
  }

  /** Closing pours that all weigh the same. */
  public static List<Double> evenly(int closingPours) {
    return Collections.nCopies(closingPours, 1.0);
  }

  public Recipe {
    closingSplit = List.copyOf(closingSplit);
  }

  /** How many pours share what the opening leaves. */
  public int closingPours() {
    return closingSplit.size();
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
    if (closingPours() > MOST_CLOSING_POURS) {
      found.add(
          "0 to " + MOST_CLOSING_POURS + " closing pours can be planned, not " + closingPours());
    }
    if (!closingSplit.stream().allMatch(part -> part > 0 && Double.isFinite(part))) {
      found.add("every part of the closing split must be more than zero");
    }
    if (!found.isEmpty()) {
      return found;
    }
    requirePositive(firstPour, "the first pour", found);
    Mass opening = opening();
    if (firstPour.compareTo(opening) > 0) {
      found.add("the first pour of " + firstPour + " is more than the opening of " + opening);
    }
    if (closingSplit.isEmpty() && openingShare < 1) {
      found.add(
          "without closing pours the opening must be 100 % of the water, it is "
              + percent(openingShare));
    }
    if (!closingSplit.isEmpty() && openingShare == 1) {
      found.add("an opening of 100 % leaves no water for " + closingPours() + " closing pours");
    }
    if (found.isEmpty()) {
      List<Mass> parts = split();
      for (int i = 0; i < parts.size(); i++) {
        if (parts.get(i).compareTo(Mass.ZERO) <= 0) {
          found.add("pour " + (i + 1) + " would be " + parts.get(i) + ": make fewer pours");
        }
        Duration length = new PlannedPour(i + 1, parts.get(i), flow, FIRST).length();
        if (i + 1 < parts.size()) {
          tooSoon(i + 1, length).ifPresent(found::add);
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
    if (pace instanceof Pace.AfterEnd after) {
      return new Start.AfterEnd(after.gap());
    }
    SessionTime at = SessionTime.ZERO.plus(interval().multipliedBy(position));
    return pace instanceof Pace.WhenDrained ? new Start.WhenDrained(at) : new Start.AtClock(at);
  }

  private Duration interval() {
    return pace instanceof Pace.WhenDrained drained
        ? drained.interval()
        : ((Pace.ByClock) pace).interval();
  }

  /** Why the pour after one of this length would run into it. */
  private Optional<String> tooSoon(int pour, Duration length) {
    if (pace instanceof Pace.AfterEnd after) {
      return after.gap().compareTo(LEAST_GAP) >= 0
          ? Optional.empty()
          : Optional.of(
              String.format(
                  Locale.ROOT,
                  "pour %d starts %.1f s after the end of pour %d; leave at least %d s between"
                      + " pours",
                  pour + 1,
                  seconds(after.gap()),
                  pour,
                  LEAST_GAP.toSeconds()));
    }
    return length.plus(LEAST_GAP).compareTo(interval()) <= 0
        ? Optional.empty()
        : Optional.of(
            String.format(
                Locale.ROOT,
                "pour %d takes %.1f s and the next starts %.1f s after its start; leave at least"
                    + " %d s between pours, pour faster or wait longer",
                pour,
                seconds(length),
                seconds(interval()),
                LEAST_GAP.toSeconds()));
  }

  private static double seconds(Duration span) {
    return span.toMillis() / 1000.0;
  }

  /** Water of the opening, to the step of the scale. */
  public Mass opening() {
    return rounded(
        BigDecimal.valueOf(water.nanograms()).multiply(BigDecimal.valueOf(openingShare)), step);
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
    double all = closingSplit.stream().mapToDouble(Double::doubleValue).sum();
    double taken = 0;
    for (int i = 0; i < closingPours(); i++) {
      taken += closingSplit.get(i);
      // rounding the running total, not each pour, keeps every pour within a step of its share
      Mass until =
          i == closingPours() - 1
              ? rest
              : rounded(
                  BigDecimal.valueOf(rest.nanograms()).multiply(BigDecimal.valueOf(taken / all)),
                  step);
      parts.add(until.minus(given));
      given = until;
    }
    return parts;
  }

  private static Mass rounded(BigDecimal nanograms, Mass step) {
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
