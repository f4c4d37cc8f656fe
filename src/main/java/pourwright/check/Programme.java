package pourwright.check;

import java.util.ArrayList;
import java.util.List;

/**
 * Everything that is asked in a check, in order.
 *
 * @param asks the first one leaves the scale empty
 */
public record Programme(List<Ask> asks) {
  /** What the slow water drips into. */
  public static final TestLoad VESSEL = TestLoad.unknown("a cup or server");

  public Programme {
    if (asks.isEmpty() || !(asks.get(0) instanceof Ask.LeaveEmpty)) {
      throw new IllegalArgumentException("a check begins with the empty scale");
    }
    asks = List.copyOf(asks);
  }

  public static Programme of(Kit kit, Thoroughness length) {
    List<Ask> asks = new ArrayList<>();
    TestLoad main = kit.main();
    asks.add(new Ask.LeaveEmpty(Part.QUIET, length.quietSeconds()));
    for (int i = 0; i < length.placings(); i++) {
      asks.add(new Ask.Put(Part.REPEAT, main, Spot.CENTRE));
      asks.add(new Ask.TakeOff(Part.REPEAT, main, true));
    }
    if (kit.weights().size() > 1) {
      for (TestLoad weight : kit.weights()) {
        asks.add(new Ask.Put(Part.LOADS, weight, Spot.CENTRE));
      }
      for (int i = kit.weights().size() - 1; i >= 0; i--) {
        asks.add(new Ask.TakeOff(Part.LOADS, kit.weights().get(i), false));
      }
    }
    if (length.hasCorners()) {
      for (Spot spot : Spot.values()) {
        if (spot != Spot.CENTRE) {
          asks.add(new Ask.Put(Part.CORNERS, main, spot));
          asks.add(new Ask.TakeOff(Part.CORNERS, main, false));
        }
      }
    }
    if (length.holdSeconds() > 0) {
      asks.add(new Ask.Put(Part.HOLD, main, Spot.CENTRE));
      asks.add(new Ask.Hold(Part.HOLD, length.holdSeconds()));
      asks.add(new Ask.TakeOff(Part.HOLD, main, false));
    }
    if (length.dripSeconds() > 0) {
      asks.add(new Ask.Put(Part.SLOW_WATER, VESSEL, Spot.CENTRE));
      asks.add(new Ask.Tare(Part.SLOW_WATER));
      asks.add(new Ask.Drip(Part.SLOW_WATER, length.dripSeconds()));
      asks.add(new Ask.TakeOff(Part.SLOW_WATER, VESSEL, false));
    }
    return new Programme(asks);
  }

  /** Whether nothing stands on the scale when this ask begins. */
  boolean isEmptyBefore(int index) {
    int on = 0;
    for (Ask ask : asks.subList(0, index)) {
      on += ask instanceof Ask.Put ? 1 : ask instanceof Ask.TakeOff ? -1 : 0;
    }
    return on == 0;
  }

  /** The last ask up to this one that begins with the empty scale. */
  int lastEmptyBefore(int index) {
    int at = index;
    while (!isEmptyBefore(at)) {
      at--;
    }
    return at;
  }
}
