package pourwright.forecast;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.bed.Poured;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * What a kept run can teach.
 *
 * @param kettleCelsius planned water temperature (°C)
 * @param drained for each pour, when it had drained, where that was measured or marked
 * @param wasDry for each pour, whether its water is known to have gone before the next one came
 * @param strengthPercent measured in the cup (% by mass)
 */
public record PastRun(
    Mass dose,
    OptionalDouble kettleCelsius,
    List<Poured> pours,
    List<Optional<SessionTime>> drained,
    List<Boolean> wasDry,
    Optional<Mass> beverage,
    OptionalDouble strengthPercent) {

  public PastRun {
    pours = List.copyOf(pours);
    drained = List.copyOf(drained);
    wasDry = List.copyOf(wasDry);
    if (dose.compareTo(Mass.ZERO) <= 0
        || pours.size() != drained.size()
        || pours.size() != wasDry.size()) {
      throw new IllegalArgumentException("a run has coffee, and a drained moment or none per pour");
    }
  }

  private double pouredGrams() {
    return pours.stream().mapToDouble(pour -> pour.mass().grams()).sum();
  }

  /** Water that the grounds kept (g per g of dose). */
  Optional<Double> keptPerGram() {
    return beverage.map(cup -> (pouredGrams() - cup.grams()) / dose.grams());
  }

  /** Coffee that went into the cup (% of the dose). */
  Optional<Double> extractionPercent() {
    return strengthPercent.isEmpty()
        ? Optional.empty()
        : beverage.map(cup -> strengthPercent.getAsDouble() * cup.grams() / dose.grams());
  }
}
