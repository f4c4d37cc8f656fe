package pourwright.kettle;

import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** What the brewer does to a kettle. */
public sealed interface Deed {
  /** When it begins. */
  SessionTime start();

  /**
   * Pours out at an even flow.
   *
   * @param end after the start
   */
  record PourOut(SessionTime start, SessionTime end, Mass mass) implements Deed {
    public PourOut {
      if (!end.isAfter(start) || mass.isNegative()) {
        throw new IllegalArgumentException("a pour has a length and a mass");
      }
    }
  }

  /** Adds water of some temperature (°C, 0 to 100), at once. */
  record Refill(SessionTime start, Mass mass, double celsius) implements Deed {
    public Refill {
      if (mass.isNegative() || !(celsius >= 0 && celsius <= 100)) {
        throw new IllegalArgumentException("a refill is water of 0 to 100 °C");
      }
    }
  }

  /**
   * Stands on its heated base, which stops at a temperature and then holds it.
   *
   * @param end after the start
   * @param holdCelsius set on the base (°C), at most 100
   */
  record Heat(SessionTime start, SessionTime end, double holdCelsius) implements Deed {
    public Heat {
      if (!end.isAfter(start) || !(holdCelsius >= 0 && holdCelsius <= 100)) {
        throw new IllegalArgumentException("a base heats for a while, to at most 100 °C");
      }
    }
  }
}
