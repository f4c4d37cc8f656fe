package pourwright.bed;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.detect.Basis;
import pourwright.detect.Findings;
import pourwright.units.Mass;
import pourwright.units.SessionTime;
import pourwright.water.Water;

/**
 * Fills in when the bed ran dry where that was not weighed, from drawdowns that were: of the same
 * recording, or of others through the same dripper with the same dose and grind.
 */
public final class KnownDrainage {
  /**
   * Opening of a usual cone (°) and its outlet (m); an error in them goes into the permeability.
   */
  private static final double CONE_DEGREES = 60;

  private static final double OUTLET_METRES = 0.004;

  /** Slurry under a kettle of 90 to 96 °C; common practice, no source. */
  private static final double USUAL_SLURRY_CELSIUS = 88;

  private KnownDrainage() {}

  /**
   * The same findings with drained moments from the model, where one can be calibrated.
   *
   * @param dose dry coffee; nothing is modelled without it
   * @param others findings of recordings through the same bed
   */
  public static Findings complete(Findings findings, Optional<Mass> dose, List<Findings> others) {
    boolean isBounded =
        findings.drawdowns().stream().anyMatch(drawdown -> drawdown.basis() == Basis.BOUNDED);
    if (dose.isEmpty() || !isBounded) {
      return findings;
    }
    Bed bed = Bed.ofDose(Shape.Cone.ofDegrees(CONE_DEGREES, OUTLET_METRES), dose.get());
    Water water = Water.atCelsius(USUAL_SLURRY_CELSIUS);
    List<Calibration.Run> runs = new ArrayList<>();
    run(findings, water).ifPresent(runs::add);
    others.forEach(other -> run(other, water).ifPresent(runs::add));
    return Calibration.of(bed, runs)
        .map(calibration -> new DrainForecast(bed, calibration, water).applyTo(findings))
        .orElse(findings);
  }

  private static Optional<Calibration.Run> run(Findings findings, Water water) {
    List<Poured> pours = Poured.listOf(findings);
    List<Optional<SessionTime>> drained = new ArrayList<>();
    for (int i = 1; i <= pours.size(); i++) {
      int index = i;
      drained.add(
          findings.drawdowns().stream()
              .filter(drawdown -> drawdown.afterPour() == index)
              .filter(drawdown -> drawdown.basis() == Basis.MEASURED)
              .map(Findings.Drawdown::end)
              .findFirst());
    }
    return drained.stream().anyMatch(Optional::isPresent)
        ? Optional.of(new Calibration.Run(water, pours, drained))
        : Optional.empty();
  }
}
