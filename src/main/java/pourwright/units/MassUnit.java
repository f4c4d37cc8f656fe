package pourwright.units;

/**
 * Units in which scales and people write masses, by their exact definitions.
 *
 * <p>Source: international avoirdupois pound 453.592 37 g, grain = pound / 7000, ounce = pound / 16
 * (NIST Handbook 44, Appendix C; NIST SP 811 B.8).
 */
public enum MassUnit {
  MILLIGRAM("mg", 1_000_000L),
  GRAM("g", 1_000_000_000L),
  KILOGRAM("kg", 1_000_000_000_000L),
  GRAIN("gr", 64_798_910L),
  OUNCE("oz", 28_349_523_125L),
  POUND("lb", 453_592_370_000L);

  private final String symbol;
  private final long nanograms;

  MassUnit(String symbol, long nanograms) {
    this.symbol = symbol;
    this.nanograms = nanograms;
  }

  /** As written after a number. */
  public String symbol() {
    return symbol;
  }

  /** One of this unit (ng), exact. */
  public long nanograms() {
    return nanograms;
  }
}
