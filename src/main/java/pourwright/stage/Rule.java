package pourwright.stage;

/** Something a routine must keep to; each can be named when it clashes with others. */
public sealed interface Rule {

  /** As said to the brewer. */
  String words();

  /** The routine ends in time. */
  record EndInTime(int limitSeconds, int reserveSeconds) implements Rule {
    @Override
    public String words() {
      return "everything is done by "
          + Clock.words(limitSeconds - reserveSeconds)
          + " (limit "
          + Clock.words(limitSeconds)
          + ", reserve "
          + reserveSeconds
          + " s)";
    }
  }

  /** A pour begins at its moment within the plan's tolerance, or a drained bed waits no longer. */
  record PourInTime(int station, int pour, String words) implements Rule {}

  /** The dripper comes off soon after the bed has drained. */
  record LiftInTime(int station, String words) implements Rule {}

  /** The brewer faces the judges. */
  record SpeakInTime(int speech, String words) implements Rule {}

  /** The kettle holds the water of every pour, refilled and hot again where it must be. */
  record KettleSuffices(String words) implements Rule {}

  /** Brewers are started in the order in which they stand. */
  record LeftToRight() implements Rule {
    @Override
    public String words() {
      return "brewers are started from left to right";
    }
  }

  /** Cups are served close together. */
  record ServedTogether(int seconds) implements Rule {
    @Override
    public String words() {
      return "all cups are served within " + seconds + " s";
    }
  }
}
