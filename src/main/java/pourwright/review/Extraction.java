package pourwright.review;

import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.statistic.Sample;

/**
 * How much of the dry coffee is in the cup: strength × beverage ÷ dose, all by mass.
 *
 * <p>Source: mass balance; Batali, Ristenpart and Guinard 2020, Scientific Reports, doi
 * 10.1038/s41598-020-73341-4. Uncertainties are propagated as of independent factors (GUM, JCGM
 * 100:2008, 5.1).
 *
 * @param strengthPercent mean of the readings (% by mass)
 * @param strengthUncertainty standard uncertainty of that mean (percentage points)
 * @param percent extraction (% of the dose); empty when the beverage was not weighed
 * @param uncertainty standard uncertainty of {@code percent} (percentage points); 0 without it
 */
public record Extraction(
    double strengthPercent,
    double strengthUncertainty,
    OptionalDouble percent,
    double uncertainty) {

  /** Standard uncertainty of an instrument that was kept without one (percentage points); ours. */
  public static final double USUAL_INSTRUMENT_PERCENT = 0.03;

  /** Standard uncertainty of dose and beverage: a display of 0.1 g read twice; ours. */
  public static final double SCALE_GRAMS = 0.05;

  /** Expands a standard uncertainty to about 95 % (GUM, annex G). */
  public static final double COVERAGE = 2;

  /** Where a cup lies against the published region. */
  public enum Place {
    INSIDE("inside the region"),
    WEAK("weak"),
    STRONG("strong"),
    UNDER("under-extracted"),
    OVER("over-extracted"),
    WEAK_UNDER("weak and under-extracted"),
    WEAK_OVER("weak and over-extracted"),
    STRONG_UNDER("strong and under-extracted"),
    STRONG_OVER("strong and over-extracted");

    private final String words;

    Place(String words) {
      this.words = words;
    }

    public String words() {
      return words;
    }
  }

  /**
   * The region of the classic control chart.
   *
   * <p>Source: Golden Cup Standard, 23 December 2015: 11.5 to 13.5 g/L, that is 1.15 to 1.35 %, and
   * 18 to 22 %.
   */
  public static final double WEAKEST_PERCENT = 1.15;

  public static final double STRONGEST_PERCENT = 1.35;
  public static final double LEAST_EXTRACTED_PERCENT = 18;
  public static final double MOST_EXTRACTED_PERCENT = 22;

  /** Of a run with at least one strength reading. */
  public static Optional<Extraction> of(Run run) {
    double[] readings =
        run.cup().strengths().stream().mapToDouble(Run.StrengthReading::percent).toArray();
    if (readings.length == 0) {
      return Optional.empty();
    }
    double strength = Sample.of(readings).mean();
    double repeat = readings.length > 1 ? Sample.of(readings).standardError() : 0;
    // the instrument is off by the same in every repeat, so repeats do not make it smaller
    double instrument =
        run.cup().strengths().stream()
            .mapToDouble(reading -> reading.uncertaintyPercent().orElse(USUAL_INSTRUMENT_PERCENT))
            .max()
            .orElseThrow();
    double strengthUncertainty = Math.hypot(repeat, instrument);
    if (run.cup().beverage().isEmpty()) {
      return Optional.of(new Extraction(strength, strengthUncertainty, OptionalDouble.empty(), 0));
    }
    return Optional.of(
        of(
            strength,
            strengthUncertainty,
            run.cup().beverage().get().grams(),
            SCALE_GRAMS,
            run.plan().dose().grams(),
            SCALE_GRAMS));
  }

  /** From the factors and their standard uncertainties. */
  static Extraction of(
      double strengthPercent,
      double strengthUncertainty,
      double beverageGrams,
      double beverageUncertaintyGrams,
      double doseGrams,
      double doseUncertaintyGrams) {
    double percent = strengthPercent * beverageGrams / doseGrams;
    double relative =
        Math.hypot(
            strengthUncertainty / strengthPercent,
            Math.hypot(beverageUncertaintyGrams / beverageGrams, doseUncertaintyGrams / doseGrams));
    return new Extraction(
        strengthPercent,
        strengthUncertainty,
        OptionalDouble.of(percent),
        Math.abs(percent) * relative);
  }

  /** Against the published region; empty without an extraction. */
  public Optional<Place> place() {
    if (percent.isEmpty()) {
      return Optional.empty();
    }
    int strength = side(strengthPercent, WEAKEST_PERCENT, STRONGEST_PERCENT);
    int extracted = side(percent.getAsDouble(), LEAST_EXTRACTED_PERCENT, MOST_EXTRACTED_PERCENT);
    Place[][] places = {
      {Place.WEAK_UNDER, Place.WEAK, Place.WEAK_OVER},
      {Place.UNDER, Place.INSIDE, Place.OVER},
      {Place.STRONG_UNDER, Place.STRONG, Place.STRONG_OVER}
    };
    return Optional.of(places[strength + 1][extracted + 1]);
  }

  /** Whether a limit of the region lies so near that the cup may be on its other side. */
  public boolean isCloseCall() {
    return isNear(strengthPercent, strengthUncertainty, WEAKEST_PERCENT, STRONGEST_PERCENT)
        || (percent.isPresent()
            && isNear(
                percent.getAsDouble(),
                uncertainty,
                LEAST_EXTRACTED_PERCENT,
                MOST_EXTRACTED_PERCENT));
  }

  private static boolean isNear(double value, double uncertainty, double low, double high) {
    double reach = COVERAGE * uncertainty;
    return Math.abs(value - low) <= reach || Math.abs(value - high) <= reach;
  }

  private static int side(double value, double low, double high) {
    return value < low ? -1 : value > high ? 1 : 0;
  }
}
