package pourwright.detect;

import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.rig.Place;
import pourwright.units.Mass;

/**
 * What the detector is told; everything else it takes from the stream.
 *
 * @param falseStartsPerHour accepted rate of false pour starts from scale noise alone (1/h), the
 *     only knob of the change tests
 * @param wholeLagSeconds measured lag of the scale under everything (s); empty: taken from the
 *     shape of the edges
 * @param serverLagSeconds measured lag of the scale under the server (s)
 * @param wholeNoiseGrams measured noise of one reading at rest of the scale under everything (g),
 *     the least that is believed; empty: taken from the stream
 * @param serverNoiseGrams measured noise of the scale under the server (g)
 * @param dripper mass of the dry dripper with its paper, where the brewer gave it
 * @param server mass of the empty server, where the brewer gave it
 * @param dose dry coffee
 * @param plannedWater all water of the plan
 */
public record DetectorSettings(
    double falseStartsPerHour,
    OptionalDouble wholeLagSeconds,
    OptionalDouble serverLagSeconds,
    OptionalDouble wholeNoiseGrams,
    OptionalDouble serverNoiseGrams,
    Optional<Mass> dripper,
    Optional<Mass> server,
    Optional<Mass> dose,
    Optional<Mass> plannedWater) {

  /** One false start in a hundred hours of brewing; own choice. */
  private static final double DEFAULT_FALSE_STARTS_PER_HOUR = 0.01;

  public DetectorSettings {
    if (!(falseStartsPerHour > 0) || falseStartsPerHour > 3600) {
      throw new IllegalArgumentException(
          "false starts per hour must be above 0 and at most 3600, not " + falseStartsPerHour);
    }
    requireLag(wholeLagSeconds);
    requireLag(serverLagSeconds);
    requireNoise(wholeNoiseGrams);
    requireNoise(serverNoiseGrams);
  }

  private static void requireNoise(OptionalDouble grams) {
    if (grams.isPresent() && !(grams.getAsDouble() >= 0 && grams.getAsDouble() <= 10)) {
      throw new IllegalArgumentException(
          "the noise of a scale must be 0 to 10 g, not " + grams.getAsDouble());
    }
  }

  private static void requireLag(OptionalDouble seconds) {
    if (seconds.isPresent() && !(seconds.getAsDouble() >= 0 && seconds.getAsDouble() <= 10)) {
      throw new IllegalArgumentException(
          "the lag of a scale must be 0 to 10 s, not " + seconds.getAsDouble());
    }
  }

  /** Nothing known beforehand. */
  public static DetectorSettings standard() {
    return new DetectorSettings(
        DEFAULT_FALSE_STARTS_PER_HOUR,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  /** The same lag for every scale of the rig (s). */
  public DetectorSettings withLagSeconds(double seconds) {
    return withLagSeconds(Place.WHOLE, seconds).withLagSeconds(Place.SERVER, seconds);
  }

  public DetectorSettings withLagSeconds(Place place, double seconds) {
    return new DetectorSettings(
        falseStartsPerHour,
        place == Place.WHOLE ? OptionalDouble.of(seconds) : wholeLagSeconds,
        place == Place.SERVER ? OptionalDouble.of(seconds) : serverLagSeconds,
        wholeNoiseGrams,
        serverNoiseGrams,
        dripper,
        server,
        dose,
        plannedWater);
  }

  /** What a check measured of a scale at rest (g). */
  public DetectorSettings withNoiseGrams(Place place, double grams) {
    return new DetectorSettings(
        falseStartsPerHour,
        wholeLagSeconds,
        serverLagSeconds,
        place == Place.WHOLE ? OptionalDouble.of(grams) : wholeNoiseGrams,
        place == Place.SERVER ? OptionalDouble.of(grams) : serverNoiseGrams,
        dripper,
        server,
        dose,
        plannedWater);
  }

  public DetectorSettings withFalseStartsPerHour(double rate) {
    return new DetectorSettings(
        rate,
        wholeLagSeconds,
        serverLagSeconds,
        wholeNoiseGrams,
        serverNoiseGrams,
        dripper,
        server,
        dose,
        plannedWater);
  }

  public DetectorSettings withDripper(Mass mass) {
    return new DetectorSettings(
        falseStartsPerHour,
        wholeLagSeconds,
        serverLagSeconds,
        wholeNoiseGrams,
        serverNoiseGrams,
        Optional.of(mass),
        server,
        dose,
        plannedWater);
  }

  public DetectorSettings withServer(Mass mass) {
    return new DetectorSettings(
        falseStartsPerHour,
        wholeLagSeconds,
        serverLagSeconds,
        wholeNoiseGrams,
        serverNoiseGrams,
        dripper,
        Optional.of(mass),
        dose,
        plannedWater);
  }

  public DetectorSettings withDose(Mass mass) {
    return new DetectorSettings(
        falseStartsPerHour,
        wholeLagSeconds,
        serverLagSeconds,
        wholeNoiseGrams,
        serverNoiseGrams,
        dripper,
        server,
        Optional.of(mass),
        plannedWater);
  }

  public DetectorSettings withPlannedWater(Mass mass) {
    return new DetectorSettings(
        falseStartsPerHour,
        wholeLagSeconds,
        serverLagSeconds,
        wholeNoiseGrams,
        serverNoiseGrams,
        dripper,
        server,
        dose,
        Optional.of(mass));
  }

  public OptionalDouble noiseGrams(Place place) {
    return place == Place.WHOLE ? wholeNoiseGrams : serverNoiseGrams;
  }

  public OptionalDouble lagSeconds(Place place) {
    return place == Place.WHOLE ? wholeLagSeconds : serverLagSeconds;
  }
}
