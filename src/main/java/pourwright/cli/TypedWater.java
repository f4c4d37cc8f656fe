package pourwright.cli;

import java.math.BigDecimal;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import pourwright.mineral.Blend;
import pourwright.mineral.Minerals;
import pourwright.mineral.Minerals.Salt;
import pourwright.units.Mass;
import pourwright.units.MassUnit;

/**
 * A water as typed in one word.
 *
 * @param weighed how much of it, where that was said
 */
record TypedWater(Blend.Water water, Optional<Mass> weighed) {
  static final String HOW =
      "write NAME=HARDNESS/ALKALINITY (mg/L as CaCO3), NAME=ca:50,mg:10,hco3:120 (mg/L from a"
          + " label), NAME=epsom:2.45 (g of salt per litre) or distilled";

  private static final String NUMBER = "(\\d{1,6}(?:\\.\\d{1,6})?)";
  private static final Pattern WORD =
      Pattern.compile("([^=@]{1,60})(?:=([^@]+))?(?:@" + NUMBER + ")?");
  private static final Pattern COUNTED = Pattern.compile(NUMBER + "/" + NUMBER);
  private static final Pattern PART = Pattern.compile("([a-z0-9-]+):" + NUMBER);

  /**
   * Reads one.
   *
   * @throws IllegalArgumentException when it is none; the message says how to write one
   */
  static TypedWater read(String word) {
    Matcher match = WORD.matcher(word);
    if (!match.matches()) {
      throw new IllegalArgumentException(HOW);
    }
    String name = match.group(1).strip();
    String told = match.group(2);
    if (told == null && !name.equals("distilled")) {
      throw new IllegalArgumentException(HOW);
    }
    String grams = match.group(3);
    return new TypedWater(
        new Blend.Water(name, told == null ? Minerals.NONE : minerals(told)),
        grams == null
            ? Optional.empty()
            : Optional.of(Mass.of(new BigDecimal(grams), MassUnit.GRAM)));
  }

  private static Minerals minerals(String told) {
    Matcher counted = COUNTED.matcher(told);
    if (counted.matches()) {
      return new Minerals(
          Double.parseDouble(counted.group(1)), Double.parseDouble(counted.group(2)));
    }
    double calcium = 0;
    double magnesium = 0;
    double bicarbonate = 0;
    double hardness = 0;
    double alkalinity = 0;
    for (String piece : told.split(",", -1)) {
      Matcher part = PART.matcher(piece.strip().toLowerCase(Locale.ROOT));
      if (!part.matches()) {
        throw new IllegalArgumentException(HOW);
      }
      double amount = Double.parseDouble(part.group(2));
      switch (part.group(1)) {
        case "ca" -> calcium += amount;
        case "mg" -> magnesium += amount;
        case "hco3" -> bicarbonate += amount;
        default -> {
          Salt salt =
              Salt.findByWord(part.group(1))
                  .orElseThrow(
                      () ->
                          new IllegalArgumentException(
                              "salts are epsom, calcium-chloride, soda and potassium-bicarbonate; "
                                  + HOW));
          hardness += salt.dissolved(amount).hardnessMgPerLitre();
          alkalinity += salt.dissolved(amount).alkalinityMgPerLitre();
        }
      }
    }
    Minerals ions = Minerals.ofIons(calcium, magnesium, bicarbonate);
    return new Minerals(
        ions.hardnessMgPerLitre() + hardness, ions.alkalinityMgPerLitre() + alkalinity);
  }
}
