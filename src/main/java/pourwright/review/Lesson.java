package pourwright.review;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import pourwright.compare.Comparison.Kind;
import pourwright.statistic.Interval;
import pourwright.statistic.Proportion;

/**
 * What to practise next.
 *
 * @param cost what it would save
 * @param sentence what to do, plain
 * @param evidence what it rests on
 */
public record Lesson(Cost cost, String sentence, String evidence) {

  /** Above this share of the mean square the error is called a habit, else scatter; ours. */
  private static final double HABIT_SHARE = 0.5;

  private static final int FEW_RUNS = 5;

  /**
   * The lesson of the dearest cost; empty when there is nothing to learn from.
   *
   * @param pours over the same runs as the costs
   * @param runs how many those are
   * @param apart runs that were left out because they lie apart from the rest
   */
  static Optional<Lesson> of(List<Cost> costs, List<PourReview> pours, int runs, List<Long> apart) {
    return costs.stream().findFirst().map(dearest -> of(dearest, pours, runs, apart));
  }

  private static Lesson of(Cost cost, List<PourReview> pours, int runs, List<Long> apart) {
    String part =
        say(
            "%.0f %% of all deviation in %s",
            100 * cost.part(), runs == 1 ? "one run" : runs + " runs");
    String caution =
        (runs < FEW_RUNS ? "; so few runs are a hint at most" : "")
            + (apart.isEmpty()
                ? ""
                : "; left out as apart from the rest: run "
                    + apart.stream().map(String::valueOf).collect(Collectors.joining(", ")));
    return switch (cost.cause()) {
      case EXTRA ->
          new Lesson(
              cost,
              say(
                  "Leave out the water the plan does not ask for: it came in %d of %d runs.",
                  cost.runs(), runs),
              part + caution + ".");
      case MISSED -> {
        PourReview pour = pours.get(cost.pour().orElseThrow() - 1);
        yield new Lesson(
            cost,
            say(
                "Do not leave out pour %d: it was missed in %d of %d runs.",
                pour.pour(), pour.missed(), runs),
            part + caution + ".");
      }
      case MASS -> habit(cost, pours, Kind.MASS, part, caution);
      case START -> habit(cost, pours, Kind.START, part, caution);
      case FLOW -> habit(cost, pours, Kind.FLOW, part, caution);
    };
  }

  private static Lesson habit(
      Cost cost, List<PourReview> pours, Kind kind, String part, String caution) {
    int number = cost.pour().orElseThrow();
    Habit habit = pours.get(number - 1).findHabit(kind).orElseThrow();
    double bias = habit.errors().mean().orElse(0);
    double spread = habit.errors().spread().orElse(0);
    String what = "the " + noun(kind) + " of pour " + number;
    String sentence =
        habit.biasShare() >= HABIT_SHARE
            ? say(
                "Work on %s: you are %s, so aim %s.", what, off(kind, bias), correction(kind, bias))
            : say(
                "Work on %s: it scatters by %.1f %s from run to run, so practise doing it alike.",
                what, spread, unit(kind));
    StringBuilder evidence = new StringBuilder(part);
    evidence.append(say("; on average %s", signed(bias, kind)));
    Optional<Interval> where = habit.errors().meanInterval();
    where.ifPresent(
        interval ->
            evidence.append(
                say(" (95 %%: %s to %s)", signed(interval.low()), signed(interval.high()))));
    if (habit.errors().size() > 1) {
      evidence.append(say(", scatter %.1f %s", spread, unit(kind)));
    }
    Optional<Proportion> within = habit.within();
    within.ifPresent(
        share ->
            evidence.append(
                say(
                    ", within ±%.1f %s in %d of %d",
                    habit.tolerance(), unit(kind), share.successes(), share.trials())));
    return new Lesson(cost, sentence, evidence.append(caution).append('.').toString());
  }

  private static String off(Kind kind, double bias) {
    String by = say("%.1f %s", Math.abs(bias), unit(kind));
    return switch (kind) {
      case MASS -> by + (bias > 0 ? " over" : " short") + " on average";
      case START -> by + (bias > 0 ? " late" : " early") + " on average";
      case FLOW -> by + (bias > 0 ? " too fast" : " too slow") + " on average";
    };
  }

  private static String correction(Kind kind, double bias) {
    return switch (kind) {
      case MASS -> say("to stop %.1f g %s", Math.abs(bias), bias > 0 ? "sooner" : "later");
      case START -> say("to start %.1f s %s", Math.abs(bias), bias > 0 ? "sooner" : "later");
      case FLOW -> "for a " + (bias > 0 ? "thinner" : "fuller") + " stream";
    };
  }

  /** A kind of error in the trade's word. */
  public static String noun(Kind kind) {
    return switch (kind) {
      case MASS -> "water";
      case START -> "start";
      case FLOW -> "flow";
    };
  }

  /** The unit errors of a kind are given in. */
  public static String unit(Kind kind) {
    return switch (kind) {
      case MASS -> "g";
      case START -> "s";
      case FLOW -> "g/s";
    };
  }

  private static String signed(double value, Kind kind) {
    return signed(value) + " " + unit(kind);
  }

  /** With its sign, a true minus, one decimal. */
  static String signed(double value) {
    String digits = say("%.1f", Math.abs(value));
    if (digits.equals("0.0")) {
      return digits;
    }
    return (value < 0 ? "−" : "+") + digits;
  }

  private static String say(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
