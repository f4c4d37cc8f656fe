package pourwright.stage;

/**
 * A time in which the brewer must face the judges with the hands off the kettle.
 *
 * @param say what it is about
 * @param earliest first second at which it may begin
 * @param latest last second at which it may begin
 * @param seconds how long it takes, positive
 */
public record Speech(String say, int earliest, int latest, int seconds) {

  public Speech {
    if (earliest < 0 || latest < earliest || seconds < 1) {
      throw new IllegalArgumentException(
          "speech \"" + say + "\" from " + earliest + " to " + latest + " for " + seconds + " s");
    }
  }
}
