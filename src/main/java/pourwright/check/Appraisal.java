package pourwright.check;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.metrology.UncertaintyBudget;
import pourwright.metrology.UncertaintyBudget.Contribution;
import pourwright.performance.Delivery;
import pourwright.performance.Display;
import pourwright.performance.Drift;
import pourwright.performance.Estimate;
import pourwright.performance.Linearity;
import pourwright.performance.LoadError;
import pourwright.performance.Plateau;
import pourwright.performance.Repeatability;
import pourwright.performance.Rounding;
import pourwright.performance.Series;
import pourwright.performance.SlowWater;
import pourwright.performance.StepResponse;
import pourwright.performance.StepTrace;
import pourwright.statistic.Sample;

/**
 * What a check found out about a scale. What was not measured is empty.
 *
 * @param zeroReturn empty pan after a load less before it, mean of the repeats (g)
 * @param errors shown less true, at each known load (g)
 * @param hysteresis coming down less going up, at the load nearest to half of all (g)
 * @param corners off the middle less in the middle (g)
 * @param creep end less beginning of the load that stayed (g)
 * @param holdSeconds how long it stayed
 * @param zeroDrift of the empty pan over the whole check
 * @param greatestLoadGrams ever on the scale in this check
 * @param notes what limits these figures
 */
public record Appraisal(
    Display display,
    Delivery delivery,
    Optional<Estimate> zeroReturn,
    Optional<Repeatability> repeatability,
    Optional<StepResponse> response,
    List<LoadError> errors,
    Optional<Linearity> linearity,
    Optional<Corner> hysteresis,
    List<Corner> corners,
    Optional<Estimate> creep,
    double holdSeconds,
    Optional<Drift> zeroDrift,
    Optional<SlowWater> slowWater,
    double greatestLoadGrams,
    int losses,
    int disturbances,
    List<String> notes) {

  /** A change smaller than this many display steps tells nothing of how the display follows. */
  private static final double LEAST_CHANGE_STEPS = 20;

  private static final double EDGE_SECONDS = 3;

  /** From placing a load to the middle of its measurement, about (s). */
  private static final double SETTLING_SECONDS = 3;

  private static final int LEAST_PLACINGS = 2;

  /**
   * A difference at one place or load.
   *
   * @param where in plain words
   */
  public record Corner(String where, Estimate difference) {}

  public Appraisal {
    errors = List.copyOf(errors);
    corners = List.copyOf(corners);
    notes = List.copyOf(notes);
  }

  /** Whether there is enough to appraise: the empty scale was measured. */
  public static boolean isPossible(Measured measured) {
    return !measured.of(Part.QUIET).isEmpty();
  }

  /**
   * What these measurements say.
   *
   * @throws IllegalArgumentException when not even the empty scale was measured
   */
  public static Appraisal of(Measured measured) {
    if (!isPossible(measured)) {
      throw new IllegalArgumentException("the empty scale was not measured");
    }
    return new Appraiser(measured).appraise();
  }

  /** By how much the display runs behind, where that was measured (s). */
  public Optional<Estimate> lag() {
    return response.map(StepResponse::totalLag);
  }

  /** All figures, in the order of the check. */
  public List<Figure> figures() {
    List<Figure> figures = new ArrayList<>();
    Estimate step = Estimate.of(display.stepGrams(), 0, 1);
    figures.add(new Figure("display_step_g", "display step", "g", step, ""));
    figures.add(
        new Figure(
            "noise_g",
            "noise of one reading",
            "g",
            display.noise(),
            String.format(
                Locale.ROOT, "two readings tell %.2f g apart", display.leastChangeGrams())));
    figures.add(
        new Figure(
            "rate_per_s",
            "readings a second",
            "1/s",
            delivery.perSecond(),
            String.format(
                Locale.ROOT,
                "jitter %.0f ms, longest wait %.2f s, %.1f together",
                delivery.jitterSeconds() * 1000,
                delivery.longestGapSeconds(),
                delivery.perArrival())));
    zeroReturn.ifPresent(
        e -> figures.add(new Figure("zero_return_g", "return to zero", "g", e, "")));
    repeatability.ifPresent(
        r ->
            figures.add(
                new Figure(
                    "repeatability_g",
                    "repeatability",
                    "g",
                    r.deviation(),
                    String.format(
                        Locale.ROOT, "%d placings, range %.2f g", r.placings(), r.range()))));
    for (LoadError error : errors) {
      String load = plain(error.loadGrams());
      figures.add(
          new Figure("error_at_" + load + "_g", "error at " + load + " g", "g", error.error(), ""));
    }
    linearity.ifPresent(
        l -> {
          Estimate span = l.span();
          figures.add(
              new Figure(
                  "span_g_per_100g",
                  "error per 100 g",
                  "g",
                  new Estimate(
                      span.value() * 100,
                      span.standardUncertainty() * 100,
                      span.low() * 100,
                      span.high() * 100),
                  ""));
          figures.add(
              new Figure(
                  "nonlinearity_g",
                  "largest bend",
                  "g",
                  l.worst().error(),
                  "at " + plain(l.worst().loadGrams()) + " g"));
        });
    hysteresis.ifPresent(
        h -> figures.add(new Figure("hysteresis_g", "hysteresis", "g", h.difference(), h.where())));
    for (Corner corner : corners) {
      figures.add(
          new Figure(
              "corner_" + corner.where().replace(' ', '_') + "_g",
              "corner error " + corner.where(),
              "g",
              corner.difference(),
              ""));
    }
    creep.ifPresent(
        e ->
            figures.add(
                new Figure(
                    "creep_g",
                    "creep under load",
                    "g",
                    e,
                    String.format(Locale.ROOT, "in %.0f s", holdSeconds))));
    zeroDrift.ifPresent(
        d -> {
          figures.add(
              new Figure(
                  "zero_drift_g_per_min",
                  "drift of zero",
                  "g/min",
                  d.perMinute(),
                  d.isWarmingUp() ? "faster at first: it was warming up" : ""));
          figures.add(new Figure("zero_change_g", "zero, end less beginning", "g", d.change(), ""));
        });
    response.ifPresent(
        r -> {
          figures.add(
              new Figure("filter_lag_s", "lag of its smoothing", "s", r.filterLag(), shape(r)));
          r.deadTime()
              .ifPresent(
                  dead ->
                      figures.add(
                          new Figure("dead_time_s", "dead time", "s", dead, "by the beat")));
          figures.add(
              new Figure(
                  "lag_s",
                  "lag in all",
                  "s",
                  r.totalLag(),
                  r.deadTime().isPresent() ? "" : "without dead time, which was not measured"));
        });
    slowWater.ifPresent(
        w -> {
          figures.add(
              new Figure(
                  "swallowed_g",
                  "slow water swallowed",
                  "g",
                  w.swallowed(),
                  String.format(
                      Locale.ROOT, "of %.1f g at %.2f g/s", w.gained().value(), w.flow())));
          w.freeze()
              .ifPresent(
                  f ->
                      figures.add(
                          new Figure("freeze_g", "display freezes below", "g", f, "then jumps")));
        });
    return figures;
  }

  private static String shape(StepResponse response) {
    String seconds =
        String.format(
            Locale.ROOT, "%.2f s", response.filter().timeConstant(response.filterLag().value()));
    return switch (response.filter()) {
      case FIRST -> "first order, time constant " + seconds;
      case SECOND -> "second order, time constants " + seconds + " each";
      case WINDOW -> "moving average over " + seconds;
    };
  }

  static String plain(double grams) {
    return java.math.BigDecimal.valueOf(Math.rint(grams * 100) / 100)
        .stripTrailingZeros()
        .toPlainString();
  }

  /** Works one out. */
  private static final class Appraiser {
    private final Measured measured;
    private final Display display;
    private final List<Taken> repeatPuts;
    private final List<String> notes = new ArrayList<>();
    private final Optional<Repeatability> repeatability;
    private final Optional<Estimate> creep;

    Appraiser(Measured measured) {
      this.measured = measured;
      double step = Rounding.findStep(measured.readings()).orElse(0);
      List<Plateau> plateaus =
          measured.taken().stream()
              .filter(one -> !(one.ask() instanceof Ask.Drip))
              .map(Taken::after)
              .toList();
      this.display = Display.of(plateaus, step);
      this.repeatPuts =
          measured.of(Part.REPEAT).stream().filter(one -> one.ask() instanceof Ask.Put).toList();
      this.repeatability =
          repeatPuts.size() < LEAST_PLACINGS
              ? Optional.empty()
              : Optional.of(
                  Repeatability.of(
                      repeatPuts.stream().mapToDouble(this::added).toArray(), display));
      this.creep = creep();
    }

    Appraisal appraise() {
      List<StepTrace> traces = traces();
      List<LoadError> errors = errors();
      Plateau empty = measured.of(Part.QUIET).get(0).after();
      double greatest =
          measured.taken().stream()
              .mapToDouble(one -> one.after().grams() - empty.grams())
              .max()
              .orElse(0);
      Optional<StepResponse> response = StepResponse.find(traces);
      if (!measured.isWhole()) {
        notes.add("The check was ended early; what was not measured is left out.");
      }
      if (response.filter(found -> found.deadTime().isEmpty()).isPresent()) {
        notes.add(
            "Too few loads were taken off on the beat, so the dead time is not known; the lag is"
                + " that of the smoothing alone.");
      }
      measured.taken().stream()
          .map(Taken::ask)
          .filter(Ask.Put.class::isInstance)
          .flatMap(ask -> ((Ask.Put) ask).load().known().stream())
          .filter(TestLoad.Known::isFromMemory)
          .findFirst()
          .ifPresent(
              known ->
                  notes.add(
                      "The tolerance of at least one weight ("
                          + TestLoad.plain(known.mass())
                          + ", "
                          + known.source()
                          + ") comes from memory, not from a table that was read."));
      if (errors.isEmpty()) {
        notes.add(
            "No known weight was used: nothing is said about whether the weights shown are true.");
      }
      return new Appraisal(
          display,
          Delivery.of(measured.readings(), traces),
          zeroReturn(),
          repeatability,
          response,
          errors,
          errors.size() < 2 ? Optional.empty() : Optional.of(Linearity.of(errors)),
          hysteresis(),
          corners(),
          creep,
          holds().isEmpty() ? 0 : holds().get(0).readings().span(),
          zeroDrift(),
          slowWater(),
          greatest,
          measured.losses(),
          measured.disturbances(),
          notes);
    }

    private List<StepTrace> traces() {
      return measured.taken().stream()
          .filter(Taken::isClean)
          .filter(one -> one.ask() instanceof Ask.Put || one.ask() instanceof Ask.TakeOff)
          .filter(one -> Math.abs(one.change()) >= LEAST_CHANGE_STEPS * display.stepGrams())
          .map(
              one ->
                  new StepTrace(
                      one.readings(), one.before().grams(), one.after().grams(), one.beat()))
          .toList();
    }

    /** Scatter of one weighing as a cause, or nothing where it was not measured. */
    private Contribution scatter(double times) {
      return repeatability
          .map(
              found ->
                  new Contribution(
                      "repeatability", found.deviation().value() * times, found.placings() - 1.0))
          .orElse(new Contribution("repeatability", 0, Double.POSITIVE_INFINITY));
    }

    /** Rounding of so many plateaus. */
    private Contribution rounding(int plateaus) {
      return new Contribution(
          "display step",
          Math.sqrt(plateaus) * display.roundingUncertainty(),
          Double.POSITIVE_INFINITY);
    }

    /** What a placing added to the empty pan, as it was on average before and after (g). */
    private double added(Taken put) {
      double before = put.before().grams();
      double after =
          measured.taken().stream()
              .filter(one -> one.index() == put.index() + 1)
              .filter(one -> one.ask() instanceof Ask.TakeOff)
              .mapToDouble(one -> one.after().grams())
              .findFirst()
              .orElse(before);
      return put.after().grams() - (before + after) / 2;
    }

    /** What creep may have done to a load of so many grams in so many seconds. */
    private Contribution crept(double loadGrams, double seconds) {
      if (creep.isEmpty() || !creep.get().isReal()) {
        return new Contribution("creep", 0, Double.POSITIVE_INFINITY);
      }
      double main = measured.of(Part.HOLD).get(0).change();
      double held = holds().get(0).readings().span();
      // creep is fast at first: twice its share of the time
      double share = Math.min(1, 2 * seconds / held);
      double most = Math.abs(creep.get().value() * loadGrams / main) * share;
      return Contribution.rectangular("creep", most);
    }

    private Optional<Estimate> zeroReturn() {
      double[] returns =
          pairs(measured.of(Part.REPEAT)).stream()
              .mapToDouble(pair -> pair.off().after().grams() - pair.put().before().grams())
              .toArray();
      if (returns.length < LEAST_PLACINGS) {
        return Optional.empty();
      }
      Sample sample = Sample.of(returns);
      double floor = rounding(2).standardUncertainty() / Math.sqrt(returns.length);
      double u = Math.max(sample.standardError(), floor);
      return Optional.of(
          Estimate.of(
              sample.mean(), u, u > floor ? returns.length - 1.0 : Double.POSITIVE_INFINITY));
    }

    private record Pair(Taken put, Taken off) {}

    /** Each placing with the taking off that came next. */
    private static List<Pair> pairs(List<Taken> taken) {
      List<Pair> pairs = new ArrayList<>();
      for (int i = 0; i + 1 < taken.size(); i++) {
        if (taken.get(i).ask() instanceof Ask.Put
            && taken.get(i + 1).ask() instanceof Ask.TakeOff) {
          pairs.add(new Pair(taken.get(i), taken.get(i + 1)));
        }
      }
      return pairs;
    }

    private List<LoadError> errors() {
      List<LoadError> errors = new ArrayList<>();
      double known = 0;
      double doubt = 0;
      for (Taken one : ups()) {
        TestLoad.Known load = ((Ask.Put) one.ask()).load().known().orElseThrow();
        known += load.mass().grams();
        // weights of one set may all err the same way, so their doubts add up (cg-18)
        doubt += load.standardUncertaintyGrams();
        UncertaintyBudget budget =
            UncertaintyBudget.of(
                scatter(1),
                rounding(2),
                crept(known, SETTLING_SECONDS),
                new Contribution("weights", doubt, Double.POSITIVE_INFINITY));
        errors.add(
            new LoadError(
                known,
                Estimate.of(one.after().grams() - zeroAt(one.after().at()) - known, budget)));
      }
      if (!repeatPuts.isEmpty()) {
        ((Ask.Put) repeatPuts.get(0).ask()).load().known().ifPresent(load -> addMain(errors, load));
      }
      errors.sort(java.util.Comparator.comparingDouble(LoadError::loadGrams));
      return errors;
    }

    private void addMain(List<LoadError> errors, TestLoad.Known load) {
      double mean = Sample.of(repeatPuts.stream().mapToDouble(this::added).toArray()).mean();
      UncertaintyBudget budget =
          UncertaintyBudget.of(
              scatter(1 / Math.sqrt(repeatPuts.size())),
              rounding(2),
              crept(load.mass().grams(), SETTLING_SECONDS),
              new Contribution(
                  "weights", load.standardUncertaintyGrams(), Double.POSITIVE_INFINITY));
      errors.add(
          new LoadError(load.mass().grams(), Estimate.of(mean - load.mass().grams(), budget)));
    }

    private List<Taken> ups() {
      return measured.of(Part.LOADS).stream().filter(one -> one.ask() instanceof Ask.Put).toList();
    }

    private List<Taken> downs() {
      return measured.of(Part.LOADS).stream()
          .filter(one -> one.ask() instanceof Ask.TakeOff)
          .toList();
    }

    /** The zero at some moment of the loads part: a line from the empty pan before to after. */
    private double zeroAt(double moment) {
      Plateau before = ups().get(0).before();
      if (downs().size() < ups().size()) {
        return before.grams();
      }
      Plateau after = downs().get(downs().size() - 1).after();
      double part = (moment - before.at()) / (after.at() - before.at());
      return before.grams() + part * (after.grams() - before.grams());
    }

    private Optional<Corner> hysteresis() {
      List<Taken> ups = ups();
      List<Taken> downs = downs();
      if (ups.size() < 2 || downs.size() < ups.size()) {
        return Optional.empty();
      }
      double zero = ups.get(0).before().grams();
      double half = (ups.get(ups.size() - 1).after().grams() - zero) / 2;
      int nearest = 0;
      for (int i = 0; i < ups.size() - 1; i++) {
        double off = Math.abs(ups.get(i).after().grams() - zero - half);
        if (off < Math.abs(ups.get(nearest).after().grams() - zero - half)) {
          nearest = i;
        }
      }
      Plateau up = ups.get(nearest).after();
      Plateau down = downs.get(ups.size() - 2 - nearest).after();
      double difference = down.grams() - zeroAt(down.at()) - (up.grams() - zeroAt(up.at()));
      UncertaintyBudget budget =
          UncertaintyBudget.of(
              scatter(Math.sqrt(2)), rounding(2), crept(up.grams() - zero, down.at() - up.at()));
      return Optional.of(
          new Corner(
              "at " + plain(Math.rint(up.grams() - zero)) + " g", Estimate.of(difference, budget)));
    }

    private List<Corner> corners() {
      List<Corner> corners = new ArrayList<>();
      if (repeatPuts.isEmpty()) {
        return corners;
      }
      double middle = Sample.of(repeatPuts.stream().mapToDouble(this::added).toArray()).mean();
      for (Taken one : measured.of(Part.CORNERS)) {
        if (one.ask() instanceof Ask.Put put) {
          UncertaintyBudget budget =
              UncertaintyBudget.of(scatter(Math.sqrt(1 + 1.0 / repeatPuts.size())), rounding(2));
          corners.add(
              new Corner(
                  put.spot().name().toLowerCase(Locale.ROOT).replace('_', ' '),
                  Estimate.of(added(one) - middle, budget)));
        }
      }
      return corners;
    }

    private List<Taken> holds() {
      return measured.of(Part.HOLD).stream().filter(one -> one.ask() instanceof Ask.Hold).toList();
    }

    private Optional<Estimate> creep() {
      if (holds().isEmpty()) {
        return Optional.empty();
      }
      Series held = holds().get(0).readings();
      double start = held.seconds(0);
      double end = held.seconds(held.size() - 1);
      Series first = held.between(start, start + EDGE_SECONDS);
      Series last = held.between(end - EDGE_SECONDS, end);
      if (first.size() < 3 || last.size() < 3) {
        return Optional.empty();
      }
      Plateau early = Plateau.of(first);
      Plateau late = Plateau.of(last);
      double u =
          Math.hypot(
              display.plateauUncertainty(early.count()), display.plateauUncertainty(late.count()));
      return Optional.of(Estimate.of(late.grams() - early.grams(), u, Double.POSITIVE_INFINITY));
    }

    /** The empty pan through the check, up to the tare of the slow water. */
    private Optional<Drift> zeroDrift() {
      List<Plateau> empty = new ArrayList<>();
      for (Taken one : measured.taken()) {
        boolean isEmpty =
            one.ask() instanceof Ask.LeaveEmpty
                || (one.ask() instanceof Ask.TakeOff
                    && measured.programme().isEmptyBefore(one.index() + 1));
        if (isEmpty && one.ask().part() != Part.SLOW_WATER) {
          empty.add(one.after());
        }
      }
      return empty.size() < 3 ? Optional.empty() : Optional.of(Drift.of(empty, display));
    }

    private Optional<SlowWater> slowWater() {
      List<Taken> part = measured.of(Part.SLOW_WATER);
      if (part.size() < 4) {
        return Optional.empty();
      }
      Taken put = part.get(0);
      Taken tare = part.get(1);
      Taken drip = part.get(2);
      Taken off = part.get(3);
      SlowWater found =
          SlowWater.of(
              put.before(),
              put.after(),
              tare.after(),
              drip.after(),
              off.after(),
              drip.readings(),
              display);
      if (found.gained().value() < 3 * found.gained().standardUncertainty()) {
        notes.add("Hardly any slow water came, so auto-zero and freezing are not known.");
        return Optional.empty();
      }
      return Optional.of(found);
    }
  }
}
