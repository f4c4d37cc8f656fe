package pourwright.bench;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import pourwright.reading.Reading;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/**
 * One made recording with its truth.
 *
 * @param doseGrams ground coffee in the dripper (g)
 * @param about the conditions in words, for the plot and for the table of worst seeds
 */
record Take(
    Family family,
    long seed,
    Rig rig,
    double doseGrams,
    Map<Place, Curve> curves,
    Truth truth,
    String about) {

  /** A reading, and what the display would have shown without noise and steps (g). */
  record Sample(Reading reading, double idealGrams) {
    double seconds() {
      return reading.at().seconds();
    }

    double grams() {
      return reading.mass().grams();
    }
  }

  /**
   * What one scale said.
   *
   * @param samples in order of arrival
   * @param noiseGrams standard deviation of a reading about the ideal, steps included (g)
   * @param rateHz readings per second
   */
  record Curve(List<Sample> samples, double noiseGrams, double rateHz) {
    Curve {
      samples = List.copyOf(samples);
    }
  }

  /** The scale that pours are first seen on. */
  Curve leading() {
    Curve whole = curves.get(Place.WHOLE);
    return whole != null ? whole : Objects.requireNonNull(curves.get(Place.SERVER));
  }
}
