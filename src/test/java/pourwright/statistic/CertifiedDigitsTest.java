package pourwright.statistic;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * How many digits each statistic has in common with a certified or published value; the main prints
 * the table. As NIST StRD counts them: −log₁₀ of the relative error, 15 where there is none.
 */
class CertifiedDigitsTest {
  private static final double MOST_DIGITS = 15;
  private static final String NIST = "NIST StRD";
  private static final String COMMONS = "Apache Commons Statistics, its tests";

  /**
   * One value.
   *
   * @param atLeast digits held by this test: those the source prints, or the arithmetic allows
   */
  private record Row(
      String statistic, String data, double certified, double ours, int atLeast, String source) {

    double digits() {
      if (ours == certified) {
        return MOST_DIGITS;
      }
      double error =
          certified == 0 ? Math.abs(ours) : Math.abs(ours - certified) / Math.abs(certified);
      return Math.max(0, Math.min(MOST_DIGITS, -Math.log10(error)));
    }

    @Override
    public String toString() {
      return statistic + ", " + data;
    }
  }

  static Stream<Row> rows() {
    return Stream.of(univariate(), line(), intervals(), tests(), trends()).flatMap(rows -> rows);
  }

  private static Stream<Row> univariate() {
    return Stream.of(
            sample("NumAcc1", new double[] {10000001, 10000003, 10000002}, 10000002, 1, -0.5, 14),
            sample("NumAcc2", ReferenceDatasets.alternating(1.2, 1.1, 1.3), 1.2, 0.1, -0.999, 13),
            sample(
                "NumAcc3",
                ReferenceDatasets.alternating(1000000.2, 1000000.1, 1000000.3),
                1000000.2,
                0.1,
                -0.999,
                9),
            sample(
                "NumAcc4",
                ReferenceDatasets.alternating(10000000.2, 10000000.1, 10000000.3),
                10000000.2,
                0.1,
                -0.999,
                8),
            sample(
                "Michelso",
                ReferenceDatasets.MICHELSO,
                299.852400000000,
                0.0790105478190518,
                0.535199668621283,
                12),
            sample(
                "Mavro",
                ReferenceDatasets.MAVRO,
                2.00185600000000,
                0.000429123454003053,
                0.937989183438248,
                11))
        .flatMap(rows -> rows);
  }

  private static Stream<Row> sample(
      String name, double[] values, double mean, double deviation, double lagOne, int digits) {
    Sample sample = Sample.of(values);
    return Stream.of(
        new Row("mean", name, mean, sample.mean(), 14, NIST),
        new Row("standard deviation", name, deviation, sample.standardDeviation(), digits, NIST),
        new Row(
            "lag-1 autocorrelation", name, lagOne, sample.lagOneAutocorrelation(), digits, NIST));
  }

  private static Stream<Row> line() {
    Line line = Line.of(ReferenceDatasets.NORRIS_X, ReferenceDatasets.NORRIS_Y);
    return Stream.of(
        new Row("line, intercept", "Norris", -0.262323073774029, line.intercept(), 11, NIST),
        new Row(
            "line, its deviation",
            "Norris",
            0.232818234301152,
            line.interceptStandardError(),
            11,
            NIST),
        new Row("line, slope", "Norris", 1.00211681802045, line.slope(), 13, NIST),
        new Row(
            "line, its deviation",
            "Norris",
            0.429796848199937e-03,
            line.slopeStandardError(),
            11,
            NIST),
        new Row("line, R squared", "Norris", 0.999993745883712, line.rSquared(), 14, NIST));
  }

  private static Stream<Row> intervals() {
    Interval exact = new Proportion(3, 10).clopperPearson(0.95);
    Interval many = new Proportion(20, 400).clopperPearson(0.95);
    Interval score = new Proportion(3, 10).wilson(0.95);
    return Stream.of(
        new Row("Clopper–Pearson, low", "3 of 10", 0.06673951117773447, exact.low(), 9, COMMONS),
        new Row("Clopper–Pearson, high", "3 of 10", 0.6524528500599972, exact.high(), 9, COMMONS),
        new Row("Clopper–Pearson, low", "20 of 400", 0.030805241143265938, many.low(), 9, COMMONS),
        new Row("Clopper–Pearson, high", "20 of 400", 0.07616697275514255, many.high(), 9, COMMONS),
        new Row("Wilson, low", "3 of 10", 0.10779126740630104, score.low(), 12, COMMONS),
        new Row("Wilson, high", "3 of 10", 0.6032218525388546, score.high(), 12, COMMONS));
  }

  private static Stream<Row> tests() {
    Welch welch = Welch.ofSummaries(15, 87.5, 13, 12, 39, 11);
    Welch cars =
        Welch.ofSummaries(20.14458, 6.41470 * 6.41470, 249, 30.48101, 6.10771 * 6.10771, 79);
    Sample one = Sample.of(93, 103, 95, 101, 91, 105, 96, 94, 101, 88, 98, 94, 101, 92, 95);
    Capability fit = Capability.of(8, 20, 14, 16, 2);
    return Stream.of(
        new Row("Welch, t", "two samples", 0.9358461935556048, welch.t(), 13, COMMONS),
        new Row("Welch, freedom", "two samples", 20.984611233429924, welch.freedom(), 12, COMMONS),
        new Row("Welch, p", "two samples", 0.35999818693244245, welch.p(), 10, COMMONS),
        new Row(
            "Welch, t", "AUTO83B", -12.94627, cars.t(), 5, "NIST e-Handbook 1.3.5.3, 7 figures"),
        new Row(
            "one-sample t",
            "n = 15",
            -2.819764453458527,
            (one.mean() - 100) / one.standardError(),
            13,
            COMMONS),
        new Row("Cpk", "handbook", 2 / 3.0, fit.cpk(), 14, "NIST e-Handbook 6.1.6"),
        new Row("Cpm", "handbook", Math.sqrt(0.5), fit.cpm(), 14, "NIST e-Handbook 6.1.6"),
        new Row(
            "success run, 90 % at 95 %",
            "n", 29, SuccessRun.runsNeeded(0.9, 0.95), 15, "ln(1 − C) / ln R = 28.43"));
  }

  private static Stream<Row> trends() {
    Trend sen =
        Trend.of(
            new double[] {1, 2, 3, 4, 10, 12, 18}, new double[] {9, 15, 19, 20, 45, 55, 78}, 0.93);
    MannKendall order = MannKendall.of(10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15);
    String epa = "US EPA QA/G-9S, page 109";
    return Stream.of(
        new Row("Theil–Sen, slope", "Sen 1968", 4, sen.slope(), 15, "SciPy, its tests"),
        new Row(
            "Theil–Sen, low",
            "Sen 1968",
            26 / 7.0,
            sen.slopeInterval().low(),
            14,
            "SciPy, its tests"),
        new Row(
            "Theil–Sen, high",
            "Sen 1968",
            35 / 8.0,
            sen.slopeInterval().high(),
            14,
            "SciPy, its tests"),
        new Row("Mann–Kendall, S", "ties", 22, order.s(), 15, epa),
        new Row("Mann–Kendall, variance", "ties", 466 / 3.0, order.variance(), 14, epa),
        new Row("Mann–Kendall, Z", "ties", 1.685, order.z(), 3, epa + ", 4 figures"));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("rows")
  void a_statistic_agrees_with_its_source(Row row) {
    assertThat(row.digits()).isGreaterThanOrEqualTo(row.atLeast());
  }

  /** Prints the table. */
  public static void main(String[] args) {
    List<Row> rows = rows().toList();
    int width = rows.stream().mapToInt(row -> row.statistic().length()).max().orElse(0);
    for (Row row : rows) {
      System.out.println(
          String.format(
              Locale.ROOT,
              "%-" + width + "s  %-11s  %24s  %24s  %4.1f  %s",
              row.statistic(),
              row.data(),
              row.certified(),
              row.ours(),
              row.digits(),
              row.source()));
    }
    double[] digits = rows.stream().mapToDouble(Row::digits).sorted().toArray();
    System.out.println(
        rows.size()
            + " values, fewest digits "
            + String.format(Locale.ROOT, "%.1f", Arrays.stream(digits).min().orElse(0))
            + ", in common to 10 digits or more: "
            + IntStream.range(0, digits.length).filter(i -> digits[i] >= 10).count());
  }
}
