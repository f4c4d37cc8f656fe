package pourwright.forecast;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.bed.Poured;
import pourwright.detect.Analysis;
import pourwright.detect.Basis;
import pourwright.detect.Curve;
import pourwright.detect.DetectorSettings;
import pourwright.detect.Findings;
import pourwright.plan.Plan;
import pourwright.plan.Plans;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.simulate.Scenario;
import pourwright.simulate.Simulation;
import pourwright.simulate.Truth;
import pourwright.units.SessionTime;

/**
 * How far off foreseen drain times are: learns from the first runs of a simulated brewer on a split
 * rig, through the detector, and holds later runs against it. The simulated bed (gas, settling,
 * wetting) is not the model that is fitted. Prints one line for each pour; arguments: runs to learn
 * from, runs to foresee, first seed.
 */
final class DrainErrors {
  private static final String PATIENT =
      """
      format: 1
      title: patient
      dose_g: 16.5
      water_g: 264
      water_temp_c: 93.5
      rig: split
      pours:
        - {add_g: 42, flow_g_per_s: 5, start: {at_s: 0}}
        - {add_g: 66, flow_g_per_s: 6, start: {at_s: 60}}
        - {add_g: 78, flow_g_per_s: 6, start: {at_s: 115}}
        - {add_g: 78, flow_g_per_s: 6, start: {at_s: 170}}
      """;

  private DrainErrors() {}

  /**
   * What was foreseen of a pour over all later runs.
   *
   * @param count of drained moments that were foreseen and happened
   * @param meanSeconds foreseen less true length of the drawdown (s)
   * @param rootMeanSquareSeconds the same
   * @param inOne share within one standard uncertainty
   * @param inTwo share within two
   */
  record Score(
      int pour,
      int count,
      double trueSeconds,
      double meanSeconds,
      double rootMeanSquareSeconds,
      double inOne,
      double inTwo) {}

  public static void main(String[] args) {
    int learned = args.length > 0 ? Integer.parseInt(args[0]) : 5;
    int foreseen = args.length > 1 ? Integer.parseInt(args[1]) : 30;
    long seed = args.length > 2 ? Long.parseLong(args[2]) : 1;
    System.out.printf(Locale.ROOT, "learned from %d runs, %d foreseen%n", learned, foreseen);
    for (Score score : scores(patient(), learned, foreseen, seed)) {
      System.out.printf(
          Locale.ROOT,
          "  pour %d: %2d drained, true drawdown %5.1f s, error mean %+5.2f s, rms %5.2f s (%4.1f"
              + " %%), within 1 u %3.0f %%, 2 u %3.0f %%%n",
          score.pour(),
          score.count(),
          score.trueSeconds(),
          score.meanSeconds(),
          score.rootMeanSquareSeconds(),
          100 * score.rootMeanSquareSeconds() / score.trueSeconds(),
          100 * score.inOne(),
          100 * score.inTwo());
    }
  }

  static Plan patient() {
    return Plans.read(PATIENT);
  }

  static List<Score> scores(Plan plan, int learned, int foreseen, long seed) {
    List<PastRun> early = new ArrayList<>();
    for (int i = 0; i < learned; i++) {
      early.add(watched(plan, seed + i));
    }
    Experience experience = Experience.of(Dripper.CONE, plan.dose(), early);
    Forecast forecast = Forecast.of(plan, Kit.USUAL, experience);
    int pours = plan.pours().size();
    double[] count = new double[pours];
    double[] sum = new double[pours];
    double[] squares = new double[pours];
    double[] lengths = new double[pours];
    double[] inOne = new double[pours];
    double[] inTwo = new double[pours];
    for (int i = 0; i < foreseen; i++) {
      Truth truth = simulated(plan, seed + learned + i).truth();
      for (int p = 0; p < Math.min(pours, truth.pours().size()); p++) {
        Optional<Double> length = drawdown(truth, p + 1);
        Forecast.Pour pour = forecast.pours().get(p);
        if (length.isEmpty() || pour.drained().isEmpty()) {
          continue;
        }
        Forecast.Span span = pour.drained().get();
        double expected = span.expected().secondsSince(pour.poured().end());
        double off = expected - length.get();
        // the span of the moment also holds that earlier pours were late, the drawdown does not
        double relative = experience.bed().orElseThrow().relativeUncertainty(p + 1);
        count[p]++;
        sum[p] += off;
        squares[p] += off * off;
        lengths[p] += length.get();
        inOne[p] += Math.abs(off) <= relative * expected ? 1 : 0;
        inTwo[p] += Math.abs(off) <= 2 * relative * expected ? 1 : 0;
      }
    }
    List<Score> scores = new ArrayList<>();
    for (int p = 0; p < pours; p++) {
      if (count[p] > 0) {
        scores.add(
            new Score(
                p + 1,
                (int) count[p],
                lengths[p] / count[p],
                sum[p] / count[p],
                Math.sqrt(squares[p] / count[p]),
                inOne[p] / count[p],
                inTwo[p] / count[p]));
      }
    }
    return scores;
  }

  private static Optional<Double> drawdown(Truth truth, int pour) {
    return truth.drained().stream()
        .filter(drained -> drained.afterPour() == pour)
        .reduce((first, last) -> last)
        .map(drained -> drained.at().secondsSince(truth.pours().get(pour - 1).end()));
  }

  private static Simulation simulated(Plan plan, long seed) {
    Simulation run =
        new Simulation(plan, Scenario.findByName("bench").orElseThrow(), Rig.SPLIT, seed);
    while (run.advance()) {
      // to its end
    }
    return run;
  }

  /** As the detector saw it, not as it was. */
  private static PastRun watched(Plan plan, long seed) {
    Simulation run =
        new Simulation(plan, Scenario.findByName("bench").orElseThrow(), Rig.SPLIT, seed);
    Curve whole = new Curve(Place.WHOLE);
    Curve server = new Curve(Place.SERVER);
    while (run.advance()) {
      (run.place() == Place.WHOLE ? whole : server).add(run.nanos(), run.nanograms());
    }
    Findings findings =
        Analysis.of(Rig.SPLIT, DetectorSettings.standard(), List.of(whole, server)).findings();
    List<Poured> pours = new ArrayList<>();
    List<Optional<SessionTime>> drained = new ArrayList<>();
    List<Boolean> wasDry = new ArrayList<>();
    for (Findings.Pour pour : findings.pours()) {
      pours.add(new Poured(pour.start(), pour.end(), pour.poured()));
      Optional<SessionTime> measured =
          findings.drawdowns().stream()
              .filter(drawdown -> drawdown.afterPour() == pour.index())
              .filter(drawdown -> drawdown.basis() == Basis.MEASURED)
              .map(Findings.Drawdown::end)
              .findFirst();
      drained.add(measured.filter(at -> at.isAfter(pour.end())));
      wasDry.add(measured.isPresent());
    }
    return new PastRun(
        plan.dose(),
        plan.waterTemperatureCelsius(),
        pours,
        drained,
        wasDry,
        findings.lift().flatMap(Findings.Lift::beverage),
        OptionalDouble.empty());
  }
}
