package pourwright.bed;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.detect.Basis;
import pourwright.detect.Findings;
import pourwright.units.SessionTime;
import pourwright.water.Water;

/**
 * Drained moments from the model, where the scale cannot see them.
 *
 * @param bed the bed of this brew
 * @param calibration learned from earlier runs with the same dripper, dose and grind
 * @param water at the temperature of the slurry
 */
public record DrainForecast(Bed bed, Calibration calibration, Water water) {

  /**
   * When a pour has drained.
   *
   * @param expected best estimate
   * @param early one standard uncertainty before
   * @param late one standard uncertainty after
   */
  public record Drained(SessionTime expected, SessionTime early, SessionTime late) {}

  /** For each pour, when it has drained; empty where the next one comes first. */
  public List<Optional<Drained>> of(List<Poured> pours) {
    List<Optional<SessionTime>> expected = run(pours, 0);
    List<Optional<SessionTime>> early = run(pours, 1);
    List<Optional<SessionTime>> late = run(pours, -1);
    List<Optional<Drained>> forecasts = new ArrayList<>();
    for (int i = 0; i < pours.size(); i++) {
      Optional<SessionTime> soonest = early.get(i);
      Optional<SessionTime> latest = late.get(i);
      SessionTime bound = i + 1 < pours.size() ? pours.get(i + 1).start() : pours.get(i).end();
      forecasts.add(
          expected
              .get(i)
              .map(at -> new Drained(at, soonest.orElse(at), latest.orElse(later(at, bound)))));
    }
    return forecasts;
  }

  private static SessionTime later(SessionTime one, SessionTime other) {
    return one.isAfter(other) ? one : other;
  }

  private List<Optional<SessionTime>> run(List<Poured> pours, double uncertainties) {
    Permeability shifted =
        pour ->
            calibration.squareMetres(pour)
                * Math.exp(uncertainties * calibration.relativeUncertainty(pour));
    return Drainage.of(bed, shifted, water, pours).listDrained();
  }

  /**
   * The same findings with every bounded drawdown that the model sees end before its bound turned
   * into a modelled one. Measured ones stay.
   */
  public Findings applyTo(Findings findings) {
    List<Poured> pours = Poured.listOf(findings);
    if (pours.isEmpty()) {
      return findings;
    }
    List<Optional<Drained>> forecasts = of(pours);
    List<Findings.Drawdown> drawdowns = new ArrayList<>();
    for (Findings.Drawdown drawdown : findings.drawdowns()) {
      Optional<SessionTime> modelled =
          drawdown.basis() == Basis.BOUNDED
                  && drawdown.afterPour() >= 1
                  && drawdown.afterPour() <= forecasts.size()
              ? forecasts.get(drawdown.afterPour() - 1).map(Drained::expected)
              : Optional.empty();
      drawdowns.add(
          modelled
              .filter(at -> at.isBefore(drawdown.end()))
              .map(
                  at ->
                      new Findings.Drawdown(
                          drawdown.afterPour(), drawdown.start(), at, Basis.MODELLED))
              .orElse(drawdown));
    }
    return findings.withDrawdowns(drawdowns);
  }
}
