package pourwright.device.protocol;

import java.math.BigDecimal;
import java.math.RoundingMode;
import pourwright.reading.Stability;
import pourwright.units.MassUnit;

/** What one line or frame body has said so far; used again for the next one, to stay frugal. */
final class TextMatch {
  private static final long[] POWERS_OF_TEN = new long[19];

  static {
    POWERS_OF_TEN[0] = 1;
    for (int i = 1; i < POWERS_OF_TEN.length; i++) {
      POWERS_OF_TEN[i] = 10 * POWERS_OF_TEN[i - 1];
    }
  }

  private long digits;
  private int decimals;
  private boolean isNegative;
  private boolean hasSign;
  private boolean hasNumber;
  private MassUnit unit = MassUnit.GRAM;
  private Stability stability = Stability.UNSTATED;
  private boolean isOver;
  private boolean isUnder;
  private boolean isOther;
  private long nanograms;
  private boolean isUnitStated;
  private boolean isUnitMissing;
  private String fault = "";

  void clear(MassUnit usual) {
    digits = 0;
    decimals = 0;
    isNegative = false;
    hasSign = false;
    hasNumber = false;
    unit = usual;
    stability = Stability.UNSTATED;
    isOver = false;
    isUnder = false;
    isOther = false;
    nanograms = 0;
    isUnitStated = false;
    isUnitMissing = false;
    fault = "";
  }

  /** Ends the reading of a field that does not fit; always -1. */
  int fail(String why) {
    fault = why;
    return -1;
  }

  /** True for the first sign of a line. */
  boolean sign(boolean negative) {
    boolean isFirst = !hasSign;
    hasSign = true;
    isNegative = negative;
    return isFirst;
  }

  void number(long readDigits, int readDecimals) {
    digits = readDigits;
    decimals = readDecimals;
    hasNumber = true;
  }

  void unit(MassUnit stated) {
    unit = stated;
    isUnitStated = true;
  }

  /** The unit might have been there, and was not. */
  void noteMissingUnit() {
    isUnitMissing = true;
  }

  void mean(Meaning meaning) {
    switch (meaning) {
      case STABLE -> stability = Stability.STABLE;
      case MOVING -> stability = Stability.MOVING;
      case OVER -> isOver = true;
      case UNDER -> isUnder = true;
      case OTHER -> isOther = true;
      case NET, GROSS -> {
        // Either is what the scale displays, its own tare applied.
      }
    }
  }

  /** A word in the number's place: over range, or under it when a minus sign stands before it. */
  void outOfRange(boolean over) {
    if (over && !isNegative) {
      isOver = true;
    } else {
      isUnder = true;
    }
  }

  boolean isSettled() {
    return isOver || isUnder || isOther;
  }

  /** Works out the mass; false, with a reason, when there is none. */
  boolean conclude() {
    if (isSettled()) {
      return true;
    }
    if (!hasNumber) {
      fault = "no number";
      return false;
    }
    long signed = isNegative ? -digits : digits;
    long unitNanograms = unit.nanograms();
    long divisor = POWERS_OF_TEN[decimals];
    if (unitNanograms % divisor == 0) {
      long step = unitNanograms / divisor;
      nanograms = signed * step;
      long high = Math.multiplyHigh(signed, step);
      if (high == nanograms >> 63) {
        return true;
      }
    } else {
      BigDecimal exact =
          BigDecimal.valueOf(signed, decimals)
              .multiply(BigDecimal.valueOf(unitNanograms))
              .setScale(0, RoundingMode.HALF_EVEN);
      if (exact.unscaledValue().bitLength() < Long.SIZE) {
        nanograms = exact.longValue();
        return true;
      }
    }
    fault = "a mass beyond reach";
    return false;
  }

  long nanograms() {
    return nanograms;
  }

  Stability stability() {
    return stability;
  }

  boolean isOver() {
    return isOver;
  }

  boolean isUnder() {
    return isUnder;
  }

  boolean isOther() {
    return isOther;
  }

  boolean isUnitStated() {
    return isUnitStated;
  }

  boolean isUnitMissing() {
    return isUnitMissing;
  }

  String fault() {
    return fault;
  }
}
