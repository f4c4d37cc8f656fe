package pourwright.check;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import pourwright.metrology.ScaleClass;
import pourwright.performance.Drift;
import pourwright.performance.Estimate;
import pourwright.performance.LoadError;
import pourwright.performance.SlowWater;
import pourwright.units.Mass;

/**
 * Whether a scale is good enough for a plan.
 *
 * <p>Decision rule: a pour is called inside only when it is inside by the guard band, which is the
 * expanded uncertainty of a poured mass (95 %); a tolerance can be judged when that is at most a
 * third of it (after the third that R 76-1 3.7.1 allows a test, from memory), and hardly when it is
 * more than half of it (own choice).
 *
 * @param guardGrams expanded uncertainty of a poured mass (g)
 * @param smallestToleranceGrams that this scale can judge (g)
 * @param yardstick how its errors compare to those of verified scales; empty without known weights;
 *     not part of the verdict
 * @param overall worst grade of all items that are known
 */
public record Verdict(
    Demands demands,
    double guardGrams,
    double smallestToleranceGrams,
    List<Overshoot> overshoots,
    List<Item> items,
    String yardstick,
    Grade overall) {

  private static final double THIRD = 3;
  private static final double HALF = 2;

  /** Two-sided 95 % of a normal value. */
  private static final double TWO_SIDED = 1.959963984540054;

  /** A link may be quiet this long before a pour is missed (s); own choice. */
  private static final double LONGEST_BEARABLE_GAP_SECONDS = 1.0;

  /** Water dripping slowly, of which a scale may swallow a part (share); own choice. */
  private static final double BEARABLE_SHARE = 0.1;

  /**
   * What stopping by the figure alone pours too much.
   *
   * @param flow of the pour (g/s)
   * @param byLagGrams poured while the display catches up (g)
   * @param leftGrams what is not known of it, once the lag is allowed for (g)
   */
  public record Overshoot(double flow, double byLagGrams, double leftGrams) {}

  /**
   * One respect.
   *
   * @param finding what is so
   * @param advice what to change, empty where nothing is to be
   */
  public record Item(String name, Grade grade, String finding, String advice) {}

  public Verdict {
    overshoots = List.copyOf(overshoots);
    items = List.copyOf(items);
  }

  public static Verdict of(Appraisal scale, Demands demands) {
    return new Judge(scale, demands).verdict();
  }

  /** Works one out. */
  private static final class Judge {
    private final Appraisal scale;
    private final Demands demands;
    private final double tolerance;

    Judge(Appraisal scale, Demands demands) {
      this.scale = scale;
      this.demands = demands;
      this.tolerance = demands.toleranceGrams();
    }

    Verdict verdict() {
      double guard = guardGrams();
      List<Overshoot> overshoots = overshoots();
      List<Item> items = new ArrayList<>();
      items.add(judging(guard));
      items.add(lag(overshoots));
      items.add(rate());
      items.add(link());
      items.add(truth());
      items.add(corners());
      items.add(drift());
      items.add(slowWater());
      Grade overall =
          items.stream()
              .map(Item::grade)
              .filter(grade -> grade != Grade.UNKNOWN)
              .max(java.util.Comparator.naturalOrder())
              .orElse(Grade.UNKNOWN);
      return new Verdict(demands, guard, THIRD * guard, overshoots, items, yardstick(), overall);
    }

    /** Expanded uncertainty of the mass of one pour: a difference of two weights at rest (g). */
    private double guardGrams() {
      double step = scale.display().stepGrams();
      double noise = scale.display().noise().value();
      double reading = noise * noise + step * step / 12;
      double scatter = scale.repeatability().map(r -> square(r.deviation().value())).orElse(0.0);
      double span =
          scale.linearity().map(l -> l.span().worst() * demands.greatestPourGrams()).orElse(0.0);
      double bend = scale.linearity().map(l -> real(l.worst().error())).orElse(0.0);
      double wander = driftPerMinute() / 2; // a pour and its rest take half a minute
      double freeze = freeze() / 2;
      return TWO_SIDED
          * Math.sqrt(
              2 * reading
                  + scatter
                  + (square(span) + square(bend) + square(wander) + square(freeze)) / 3);
    }

    /** An effect counts with all it may be where there is one, else not at all. */
    private static double real(Estimate estimate) {
      return estimate.isReal() ? estimate.worst() : 0;
    }

    private double driftPerMinute() {
      double zero = scale.zeroDrift().map(d -> real(d.perMinute())).orElse(0.0);
      double held =
          scale.creep().map(c -> real(c) * 60 / Math.max(1, scale.holdSeconds())).orElse(0.0);
      return Math.max(zero, held);
    }

    private double freeze() {
      return scale.slowWater().flatMap(SlowWater::freeze).map(Estimate::value).orElse(0.0);
    }

    private List<Overshoot> overshoots() {
      return scale
          .response()
          .map(
              response ->
                  demands.flows().stream()
                      .map(
                          flow ->
                              new Overshoot(
                                  flow,
                                  flow * response.totalLag().value(),
                                  flow * response.totalLag().halfWidth()))
                      .toList())
          .orElse(List.of());
    }

    private Item judging(double guard) {
      Grade grade = Grade.of(guard, tolerance / THIRD, tolerance / HALF);
      double least = THIRD * guard;
      String finding =
          text(
              "A poured mass is known to ±%.2f g, so tolerances down to ±%.1f g can be judged;"
                  + " the plan asks ±%.1f g. A pour counts as inside when it is within ±%.2f g.",
              guard, least, tolerance, Math.max(0, tolerance - guard));
      return new Item("judging pours", grade, finding, grade == Grade.PASS ? "" : judgingAdvice());
    }

    private String judgingAdvice() {
      double step = scale.display().stepGrams();
      if (step > tolerance / 5) {
        return text(
            "The display shows steps of %.2f g: choose a finer step or another scale, or widen the"
                + " tolerance of the plan.",
            step);
      }
      if (scale.display().noise().value() > tolerance / 10) {
        return "It is restless: away from draughts and off a shaking table, a slower setting if it"
            + " has one, or another scale.";
      }
      return "Look at the items below for the cause; else take another scale or widen the"
          + " tolerance of the plan.";
    }

    private Item lag(List<Overshoot> overshoots) {
      if (overshoots.isEmpty()) {
        return new Item(
            "lag", Grade.UNKNOWN, "Not measured.", "Repeat the check to its second part.");
      }
      Overshoot most = overshoots.get(overshoots.size() - 1);
      double raw = most.byLagGrams();
      Grade grade =
          most.leftGrams() > tolerance / HALF
              ? Grade.FAIL
              : Grade.of(raw, tolerance / HALF, Double.POSITIVE_INFINITY);
      String finding =
          text(
              "The display runs %.2f s behind: at %.1f g/s that pours %.1f g too much if you stop by"
                  + " the figure. The stop cue allows for it and is unsure by ±%.1f g.",
              raw / most.flow(), most.flow(), raw, most.leftGrams());
      String advice =
          grade == Grade.PASS
              ? ""
              : "Stop by the cue, not by the figure; choose the scale's fast setting if it has one,"
                  + " or pour slower at the end.";
      return new Item("lag", grade, finding, advice);
    }

    private Item rate() {
      double perReading =
          demands.fastestFlow()
              * scale.delivery().perArrival()
              / scale.delivery().perSecond().value();
      Grade grade = Grade.of(perReading, tolerance / HALF, tolerance);
      return new Item(
          "reading rate",
          grade,
          text(
              "%.1f readings a second, %.1f g of water from one to the next at %.1f g/s.",
              scale.delivery().perSecond().value(), perReading, demands.fastestFlow()),
          grade == Grade.PASS ? "" : "Set the scale to send more often, or pour slower.");
    }

    private Item link() {
      double gap = scale.delivery().longestGapSeconds();
      Grade grade =
          scale.losses() > 0
              ? Grade.FAIL
              : Grade.of(
                  gap * demands.fastestFlow(),
                  tolerance,
                  LONGEST_BEARABLE_GAP_SECONDS * demands.fastestFlow());
      String lost = scale.losses() == 0 ? "" : text(" It was lost %d times.", scale.losses());
      return new Item(
          "link",
          grade,
          text("Longest wait for a reading %.2f s, %d gaps.", gap, scale.delivery().gaps()) + lost,
          grade == Grade.PASS
              ? ""
              : "Fresh batteries, automatic switch-off disabled, the receiver closer, fewer radios"
                  + " about, or a cable.");
    }

    private Item truth() {
      if (scale.errors().isEmpty()) {
        return new Item(
            "true weights",
            Grade.UNKNOWN,
            "No known weight was used.",
            "Bring two or three weights of class M1 or F2, or an object weighed elsewhere.");
      }
      double perPour = 0;
      for (LoadError error : scale.errors()) {
        double share = error.error().value() / error.loadGrams();
        double doubt = error.error().standardUncertainty() / error.loadGrams();
        perPour = Math.max(perPour, Math.max(0, Math.abs(share) - doubt));
      }
      double atPour = perPour * demands.greatestPourGrams();
      Grade grade = Grade.of(atPour, tolerance / THIRD, tolerance);
      LoadError top = scale.errors().get(scale.errors().size() - 1);
      String range =
          scale.greatestLoadGrams() < demands.waterGrams()
              ? text(
                  " Tested up to %.0f g only; the plan's water alone is %.0f g.",
                  scale.greatestLoadGrams(), demands.waterGrams())
              : "";
      return new Item(
          "true weights",
          grade,
          text(
                  "At %.0f g it shows %+.2f g (±%.2f g); the largest pour is off by %.2f g from it.",
                  top.loadGrams(), top.error().value(), top.error().halfWidth(), atPour)
              + range,
          grade == Grade.PASS
              ? ""
              : "Have it adjusted where it is used (gravity differs from place to place), or take"
                  + " another scale.");
    }

    private Item corners() {
      if (scale.corners().isEmpty()) {
        return new Item("corners", Grade.UNKNOWN, "Not measured.", "");
      }
      Appraisal.Corner worst = scale.corners().get(0);
      for (Appraisal.Corner corner : scale.corners()) {
        if (Math.abs(corner.difference().value()) > Math.abs(worst.difference().value())) {
          worst = corner;
        }
      }
      double off = worst.difference().isReal() ? Math.abs(worst.difference().value()) : 0;
      Grade grade = Grade.of(off, tolerance / THIRD, tolerance);
      return new Item(
          "corners",
          grade,
          text("Off the middle (%s) it shows %+.2f g.", worst.where(), worst.difference().value()),
          grade == Grade.PASS
              ? ""
              : "Mark the middle of the pan and stand the server there; check that all feet touch.");
    }

    private Item drift() {
      if (scale.zeroDrift().isEmpty() && scale.creep().isEmpty()) {
        return new Item("drift", Grade.UNKNOWN, "Not measured.", "");
      }
      double whole = driftPerMinute() * demands.minutes();
      Grade grade = Grade.of(whole, tolerance / THIRD, tolerance);
      boolean isWarming = scale.zeroDrift().filter(Drift::isWarmingUp).isPresent();
      return new Item(
          "drift",
          grade,
          text("It may wander %.2f g in the %.1f minutes of the plan.", whole, demands.minutes())
              + (isWarming ? " It was faster at first: the scale was warming up." : ""),
          grade == Grade.PASS && !isWarming
              ? ""
              : "Switch it on a quarter of an hour before, away from the kettle's heat; tare right"
                  + " before the brew.");
    }

    private Item slowWater() {
      if (scale.slowWater().isEmpty()) {
        return new Item("slow water", Grade.UNKNOWN, "Not measured.", "");
      }
      SlowWater water = scale.slowWater().get();
      double lost = water.swallowed().isReal() ? water.swallowed().value() : 0;
      Grade grade =
          Grade.of(
              Math.max(
                  Math.abs(lost) / Math.max(1, water.gained().value()) / BEARABLE_SHARE,
                  freeze() / (tolerance / HALF)),
              1,
              HALF);
      String frozen =
          water
              .freeze()
              .map(f -> text(" It freezes and then jumps by about %.1f g.", f.value()))
              .orElse("");
      return new Item(
          "slow water",
          grade,
          text(
                  "Of %.1f g that dripped in at %.2f g/s it swallowed %.1f g.",
                  water.gained().value(), water.flow(), Math.max(0, lost))
              + frozen,
          grade == Grade.PASS
              ? ""
              : "Switch auto-zero and stability filters off if it lets you; do not tare right before"
                  + " slow water; trust no single drips.");
    }

    /** The error steps of verified scales, with the display step as their interval. */
    private String yardstick() {
      double step = scale.display().stepGrams();
      if (scale.errors().isEmpty() || step <= 0) {
        return "";
      }
      Mass interval = Mass.ofGrams(step);
      boolean isFirst = true;
      boolean isService = true;
      for (LoadError error : scale.errors()) {
        Mass load = Mass.ofGrams(error.loadGrams());
        double off = Math.abs(error.error().value());
        isFirst &= off <= ScaleClass.III.largestError(load, interval).grams();
        isService &= off <= ScaleClass.III.largestErrorInService(load, interval).grams();
      }
      String of = "a scale of class III with this display step (OIML R 76)";
      if (isFirst) {
        return "Its errors are within those allowed to " + of + " when it is new.";
      }
      return (isService ? "Its errors are within" : "Its errors are beyond")
          + " those allowed to "
          + of
          + " in use.";
    }

    private static double square(double x) {
      return x * x;
    }

    private static String text(String format, Object... values) {
      return String.format(Locale.ROOT, format, values);
    }
  }
}
