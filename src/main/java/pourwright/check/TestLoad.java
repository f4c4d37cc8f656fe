package pourwright.check;

import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import pourwright.metrology.WeightClass;
import pourwright.metrology.WeightClass.Limit;
import pourwright.units.Mass;

/**
 * Something to put on the scale.
 *
 * @param name as the brewer knows it
 * @param known its mass, where it is known
 */
public record TestLoad(String name, Optional<Known> known) {
  private static final Pattern NUMBER = Pattern.compile("[0-9]{1,5}(\\.[0-9]{1,6})?");
  private static final Pattern KNOWN = Pattern.compile("([^:±]+)[:±](.+)");
  private static final double MOST_GRAMS = 20_000;

  /** An expanded uncertainty as written on certificates covers 95 %. */
  private static final double CERTIFICATE_FACTOR = 2;

  /**
   * A known mass.
   *
   * @param standardUncertaintyGrams of it (g)
   * @param source of the uncertainty, for the report
   * @param isFromMemory whether its tolerance comes from memory instead of a table that was read
   */
  public record Known(
      Mass mass, double standardUncertaintyGrams, String source, boolean isFromMemory) {}

  /**
   * A weight of a class.
   *
   * @throws IllegalArgumentException when the table has no such size
   */
  public static TestLoad ofClass(Mass nominal, WeightClass of) {
    Limit limit =
        of.findLimit(nominal)
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "weights of " + of.word() + " are " + sizes() + ", not " + nominal));
    return new TestLoad(
        "the " + plain(nominal) + " weight",
        Optional.of(
            new Known(
                nominal,
                limit.standardUncertaintyGrams(),
                "class " + of.word() + ", ±" + plain(limit.error()),
                limit.source() == WeightClass.Source.MEMORY)));
  }

  /**
   * An object weighed elsewhere.
   *
   * @param expandedGrams plus or minus, covers 95 % (g)
   */
  public static TestLoad weighed(Mass mass, double expandedGrams) {
    return new TestLoad(
        "the object of " + plain(mass),
        Optional.of(
            new Known(
                mass,
                expandedGrams / CERTIFICATE_FACTOR,
                "weighed elsewhere, ±" + plain(Mass.ofGrams(expandedGrams)),
                false)));
  }

  /** An object of any mass. */
  public static TestLoad unknown(String name) {
    return new TestLoad(name, Optional.empty());
  }

  /**
   * What the brewer wrote: {@code 200:M1} is a weight of 200 g of that class, {@code 312.4:0.1} an
   * object of 312.4 g ± 0.1 g.
   *
   * @throws IllegalArgumentException with one plain sentence
   */
  public static TestLoad parse(String text) {
    Matcher parts = KNOWN.matcher(text.strip());
    if (!parts.matches()) {
      throw wrong(text);
    }
    Mass mass = grams(parts.group(1).strip(), text);
    String second = parts.group(2).strip();
    Optional<WeightClass> of = WeightClass.findByWord(second);
    if (of.isPresent()) {
      return ofClass(mass, of.get());
    }
    Mass doubt = grams(second, text);
    if (doubt.compareTo(mass) >= 0) {
      throw wrong(text);
    }
    return weighed(mass, doubt.grams());
  }

  private static Mass grams(String number, String text) {
    String bare = number.endsWith("g") ? number.substring(0, number.length() - 1).strip() : number;
    if (!NUMBER.matcher(bare).matches()) {
      throw wrong(text);
    }
    double grams = Double.parseDouble(bare);
    if (!(grams > 0 && grams <= MOST_GRAMS)) {
      throw wrong(text);
    }
    return Mass.ofGrams(grams);
  }

  private static IllegalArgumentException wrong(String text) {
    return new IllegalArgumentException(
        "'"
            + text
            + "' is no known weight: write 200:M1 for a 200 g weight of class M1 (E2, F1, F2, M1),"
            + " or 312.4:0.1 for an object of 312.4 g ± 0.1 g");
  }

  private static String sizes() {
    return String.join(", ", WeightClass.listNominals().stream().map(TestLoad::plain).toList());
  }

  static String plain(Mass mass) {
    double grams = mass.grams();
    if (grams < 0.1) {
      return String.format(Locale.ROOT, "%s mg", trimmed(grams * 1000));
    }
    return trimmed(grams) + " g";
  }

  private static String trimmed(double value) {
    return java.math.BigDecimal.valueOf(Math.rint(value * 1e4) / 1e4)
        .stripTrailingZeros()
        .toPlainString();
  }
}
