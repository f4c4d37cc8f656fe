package pourwright.forecast;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntToDoubleFunction;
import java.util.stream.DoubleStream;
import pourwright.bed.Bed;
import pourwright.bed.Calibration;
import pourwright.bed.Permeability;
import pourwright.bed.Poured;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;
import pourwright.water.Water;

/**
 * What the brewer's own runs say about the coming one; common practice where they say nothing.
 *
 * @param runs that were looked at
 * @param bed how it drains, learned from runs with about this dose
 * @param keptPerGram water that the grounds keep (g/g)
 * @param extractionPercent of the runs whose strength was measured (% of the dose)
 * @param hand the flows that were poured; empty while there are too few
 */
public record Experience(
    int runs,
    Optional<Calibration> bed,
    Estimate keptPerGram,
    Optional<Estimate> extractionPercent,
    Optional<Hand> hand) {

  /** Common practice, no primary source; one published measurement gives 2.08. */
  private static final Estimate USUAL_KEPT = new Estimate(2.0, 0.3);

  /** Spread of extraction from brew to brew while it was measured once or twice; own choice. */
  private static final double USUAL_EXTRACTION_SPREAD = 1;

  /** How much of a dose another one may differ and still make the same bed; own choice. */
  private static final double SAME_DOSE = 0.1;

  /** What lies between the kettle and the slurry (K); own choice. An error goes into the fit. */
  private static final double SLURRY_COOLER_CELSIUS = 5;

  /** Middle of the Golden Cup Standard of 2015 (°C), for plans that do not say. */
  static final double USUAL_KETTLE_CELSIUS = 93;

  /** Before any run: 60 g poured in 10 s have drained 45 s after they began, ± half; own choice. */
  private static final Poured FIRST_GUESS =
      new Poured(SessionTime.ZERO, SessionTime.ofSeconds(10), Mass.ofGrams(60));

  private static final SessionTime FIRST_GUESS_DRAINED = SessionTime.ofSeconds(45);
  private static final double FIRST_GUESS_UNCERTAINTY = 0.5;

  /** Fewer pours tell nothing of a hand; own choice. */
  private static final int LEAST_POURS = 10;

  public static final Experience NONE =
      new Experience(0, Optional.empty(), USUAL_KEPT, Optional.empty(), Optional.empty());

  /**
   * Flows of a hand.
   *
   * @param slowest mean flow of a pour
   * @param fastest mean flow of a pour
   * @param pours that were seen
   */
  public record Hand(Flow slowest, Flow fastest, int pours) {}

  /**
   * Learns from kept runs.
   *
   * @param dose of the coming brew
   * @param runs with the same dripper and grind, in any order
   */
  public static Experience of(Dripper dripper, Mass dose, List<PastRun> runs) {
    List<Calibration.Run> drained =
        runs.stream()
            .filter(run -> Math.abs(run.dose().grams() / dose.grams() - 1) <= SAME_DOSE)
            .map(
                run ->
                    new Calibration.Run(
                        slurry(run.kettleCelsius()), run.pours(), run.drained(), run.wasDry()))
            .toList();
    List<Double> kept = runs.stream().flatMap(run -> run.keptPerGram().stream()).toList();
    List<Double> extraction =
        runs.stream().flatMap(run -> run.extractionPercent().stream()).toList();
    return new Experience(
        runs.size(),
        Calibration.of(Bed.ofDose(dripper.shape(), dose), drained),
        Estimate.ofSeen(kept, USUAL_KEPT),
        extraction.isEmpty()
            ? Optional.empty()
            : Optional.of(Estimate.ofSeen(extraction, new Estimate(0, USUAL_EXTRACTION_SPREAD))),
        handOf(runs));
  }

  private static Optional<Hand> handOf(List<PastRun> runs) {
    double[] flows =
        runs.stream()
            .flatMap(run -> run.pours().stream())
            .mapToDouble(pour -> pour.mass().grams() / pour.end().secondsSince(pour.start()))
            .toArray();
    return flows.length < LEAST_POURS
        ? Optional.empty()
        : Optional.of(
            new Hand(
                Flow.ofGramsPerSecond(DoubleStream.of(flows).min().orElseThrow()),
                Flow.ofGramsPerSecond(DoubleStream.of(flows).max().orElseThrow()),
                flows.length));
  }

  /** The water in the dripper. */
  static Water slurry(OptionalDouble kettleCelsius) {
    return Water.atCelsius(
        Math.max(0, kettleCelsius.orElse(USUAL_KETTLE_CELSIUS) - SLURRY_COOLER_CELSIUS));
  }

  /** How the bed of a coming brew lets water through, and how well that is known. */
  Draining draining(Bed of) {
    return bed.map(known -> new Draining(known, known::relativeUncertainty))
        .orElseGet(
            () ->
                new Draining(
                    Calibration.of(
                            of,
                            List.of(
                                new Calibration.Run(
                                    slurry(OptionalDouble.empty()),
                                    List.of(FIRST_GUESS),
                                    List.of(Optional.of(FIRST_GUESS_DRAINED)))))
                        .orElseThrow(),
                    pour -> FIRST_GUESS_UNCERTAINTY));
  }

  /**
   * A permeability and its relative standard uncertainty, pour by pour.
   *
   * @param uncertainty of a pour, counted from 1
   */
  record Draining(Permeability permeability, IntToDoubleFunction uncertainty) {
    /** So many standard uncertainties more open. */
    Permeability shifted(double uncertainties) {
      return pour ->
          permeability.squareMetres(pour)
              * Math.exp(uncertainties * uncertainty.applyAsDouble(pour));
    }
  }
}
