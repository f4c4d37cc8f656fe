package pourwright.check;

import java.util.Locale;

/** One thing the brewer is asked to do; that it was done is seen from the readings. */
public sealed interface Ask {
  Part part();

  /** The sentence to show. */
  String words();

  /** Leave the pan empty and alone for so long (s). */
  record LeaveEmpty(Part part, double seconds) implements Ask {
    @Override
    public String words() {
      return "Leave the scale empty, hands off the table, for " + whole(seconds) + " s.";
    }
  }

  /** Put something on. */
  record Put(Part part, TestLoad load, Spot spot) implements Ask {
    @Override
    public String words() {
      return "Put on " + load.name() + ", " + spot.words() + ", and let go.";
    }
  }

  /**
   * Take something off.
   *
   * @param isOnBeat whether on the third of three beats, so that the display's delay can be timed
   */
  record TakeOff(Part part, TestLoad load, boolean isOnBeat) implements Ask {
    @Override
    public String words() {
      return "Take off "
          + load.name()
          + (isOnBeat ? ", straight up, on the third beat." : ", straight up.");
    }
  }

  /** Leave everything as it is for so long (s). */
  record Hold(Part part, double seconds) implements Ask {
    @Override
    public String words() {
      return "Leave everything as it is, hands off the table, for " + whole(seconds) + " s.";
    }
  }

  /** Take the present weight as zero. */
  record Tare(Part part) implements Ask {
    @Override
    public String words() {
      return "Press the scale's tare key.";
    }
  }

  /** Let cold water drip into the vessel on the scale for so long (s). */
  record Drip(Part part, double seconds) implements Ask {
    @Override
    public String words() {
      return "Let cold water drip in, two or three drops a second, for "
          + whole(seconds)
          + " s; then stop. Keep the water off the scale itself.";
    }
  }

  private static String whole(double seconds) {
    return String.format(Locale.ROOT, "%.0f", seconds);
  }
}
