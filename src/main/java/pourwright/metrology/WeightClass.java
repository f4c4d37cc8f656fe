package pourwright.metrology;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.units.Mass;

/**
 * Accuracy classes of test weights with the largest error each size may have.
 *
 * <p>Source: OIML R 111-1 (2004), Table 1. Each row tells whether its numbers were read in a copy
 * of the table or come from memory.
 */
public enum WeightClass {
  E2,
  F1,
  F2,
  M1;

  /** Columns: nominal (g), then ± mg for E2, F1, F2, M1, each in µg so that all are whole. */
  private static final List<Row> TABLE =
      List.of(
          new Row(1, 30, 100, 300, 1_000, Source.READ),
          new Row(2, 40, 120, 400, 1_200, Source.READ),
          new Row(5, 50, 160, 500, 1_600, Source.READ),
          new Row(10, 60, 200, 600, 2_000, Source.READ),
          new Row(20, 80, 250, 800, 2_500, Source.READ),
          new Row(50, 100, 300, 1_000, 3_000, Source.READ),
          new Row(100, 160, 500, 1_600, 5_000, Source.READ),
          new Row(200, 300, 1_000, 3_000, 10_000, Source.MEMORY),
          new Row(500, 800, 2_500, 8_000, 25_000, Source.MEMORY),
          new Row(1_000, 1_600, 5_000, 16_000, 50_000, Source.MEMORY));

  /** Where a row's numbers come from. */
  public enum Source {
    /** Seen in a copy of the published table. */
    READ,
    /** From memory, at least in one cell: check against the standard before relying on it. */
    MEMORY
  }

  /**
   * The largest error of a weight.
   *
   * @param error applies both ways, positive
   * @param source of the numbers in this row
   */
  public record Limit(Mass error, Source source) {
    private static final double SQRT_3 = Math.sqrt(3);

    /** As a rectangular distribution within the limit (GUM 4.3.7). */
    public double standardUncertaintyGrams() {
      return error.grams() / SQRT_3;
    }
  }

  /** As written on a weight set's certificate. */
  public String word() {
    return name();
  }

  public static Optional<WeightClass> findByWord(String word) {
    return List.of(values()).stream()
        .filter(one -> one.name().equals(word.toUpperCase(Locale.ROOT)))
        .findFirst();
  }

  /** Sizes the table has, smallest first. */
  public static List<Mass> listNominals() {
    return TABLE.stream().map(Row::nominal).toList();
  }

  /** The limit for a weight of this size, empty for a size the table does not have. */
  public Optional<Limit> findLimit(Mass nominal) {
    return TABLE.stream()
        .filter(row -> row.nominal().equals(nominal))
        .map(row -> new Limit(row.limit(this), row.source))
        .findFirst();
  }

  private record Row(
      int nominalGrams,
      int e2Micrograms,
      int f1Micrograms,
      int f2Micrograms,
      int m1Micrograms,
      Source source) {

    Mass nominal() {
      return Mass.ofMilligrams(nominalGrams * 1_000L);
    }

    Mass limit(WeightClass of) {
      return Mass.ofNanograms(
          1_000L
              * switch (of) {
                case E2 -> e2Micrograms;
                case F1 -> f1Micrograms;
                case F2 -> f2Micrograms;
                case M1 -> m1Micrograms;
              });
    }
  }
}
