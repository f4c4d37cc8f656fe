package pourwright.mineral;

import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What a water carries, both counted as the calcium carbonate that would do the same.
 *
 * @param hardnessMgPerLitre calcium and magnesium, mg/L as CaCO₃, not negative
 * @param alkalinityMgPerLitre acid that it can take up, mg/L as CaCO₃, not negative
 */
public record Minerals(double hardnessMgPerLitre, double alkalinityMgPerLitre) {
  public static final Minerals NONE = new Minerals(0, 0);

  // Molar masses (g/mol), IUPAC standard atomic weights (values from memory).
  private static final double CALCIUM_CARBONATE = 100.0869;
  private static final double CALCIUM = 40.078;
  private static final double MAGNESIUM = 24.305;
  private static final double BICARBONATE = 61.0168;
  private static final double EPSOM_SALT = 246.475; // MgSO₄·7H₂O
  private static final double CALCIUM_CHLORIDE_DIHYDRATE = 147.014;
  private static final double BAKING_SODA = 84.0066; // NaHCO₃
  private static final double POTASSIUM_BICARBONATE = 100.115;

  public Minerals {
    if (!(hardnessMgPerLitre >= 0) || !(alkalinityMgPerLitre >= 0)) {
      throw new IllegalArgumentException(
          "hardness " + hardnessMgPerLitre + ", alkalinity " + alkalinityMgPerLitre);
    }
  }

  /**
   * From what a bottle's label lists.
   *
   * <p>Source: Standard Methods 2340 B (hardness by calculation), with unrounded molar masses;
   * alkalinity by equivalents of bicarbonate.
   *
   * @param calciumMgPerLitre Ca²⁺
   * @param magnesiumMgPerLitre Mg²⁺
   * @param bicarbonateMgPerLitre HCO₃⁻
   */
  public static Minerals ofIons(
      double calciumMgPerLitre, double magnesiumMgPerLitre, double bicarbonateMgPerLitre) {
    return new Minerals(
        calciumMgPerLitre * CALCIUM_CARBONATE / CALCIUM
            + magnesiumMgPerLitre * CALCIUM_CARBONATE / MAGNESIUM,
        bicarbonateMgPerLitre * CALCIUM_CARBONATE / 2 / BICARBONATE);
  }

  public String words() {
    return String.format(
        Locale.ROOT,
        "hardness %.0f, alkalinity %.0f mg/L as CaCO3",
        hardnessMgPerLitre,
        alkalinityMgPerLitre);
  }

  /** In German degrees: 1 °dH is 10 mg/L CaO. */
  public double hardnessGermanDegrees() {
    return hardnessMgPerLitre * 56.0774 / CALCIUM_CARBONATE / 10;
  }

  /** Salts a brewer can buy and weigh, as grams of salt in a litre of concentrate. */
  public enum Salt {
    MAGNESIUM_SULPHATE_HEPTAHYDRATE("epsom", "magnesium sulphate (Epsom salt, MgSO₄·7H₂O)"),
    CALCIUM_CHLORIDE_DIHYDRATE("calcium-chloride", "calcium chloride (CaCl₂·2H₂O)"),
    SODIUM_BICARBONATE("soda", "sodium bicarbonate (baking soda, NaHCO₃)"),
    POTASSIUM_BICARBONATE("potassium-bicarbonate", "potassium bicarbonate (KHCO₃)");

    private final String word;
    private final String words;

    Salt(String word, String words) {
      this.word = word;
      this.words = words;
    }

    /** By the one word it is typed with. */
    public static Optional<Salt> findByWord(String word) {
      return Stream.of(values()).filter(salt -> salt.word.equals(word)).findFirst();
    }

    public String words() {
      return words;
    }

    /**
     * What a solution carries.
     *
     * @param gramsPerLitre salt in a litre of solution
     */
    public Minerals dissolved(double gramsPerLitre) {
      double mg = gramsPerLitre * 1_000;
      return switch (this) {
        case MAGNESIUM_SULPHATE_HEPTAHYDRATE ->
            new Minerals(mg * CALCIUM_CARBONATE / EPSOM_SALT, 0);
        case CALCIUM_CHLORIDE_DIHYDRATE ->
            new Minerals(mg * CALCIUM_CARBONATE / Minerals.CALCIUM_CHLORIDE_DIHYDRATE, 0);
        case SODIUM_BICARBONATE -> new Minerals(0, mg * CALCIUM_CARBONATE / 2 / BAKING_SODA);
        case POTASSIUM_BICARBONATE ->
            new Minerals(0, mg * CALCIUM_CARBONATE / 2 / Minerals.POTASSIUM_BICARBONATE);
      };
    }
  }
}
