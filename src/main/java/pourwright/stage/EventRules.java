package pourwright.stage;

/**
 * What the event asks for. The defaults are common practice, no source: the event's own rule book
 * comes first.
 *
 * @param name of the event
 * @param limitSeconds time limit
 * @param cups to be served
 * @param leastMillilitres in each cup
 * @param servingCelsius temperature at which a cup's volume is reckoned (°C)
 */
public record EventRules(
    String name, int limitSeconds, int cups, int leastMillilitres, double servingCelsius) {
  public static final EventRules COMMON = new EventRules("common practice", 600, 3, 150, 70);

  /** Said wherever these rules are used. */
  public static final String CHECK =
      "Check the time limit, cups and volumes in the event's rule book.";

  public EventRules {
    if (limitSeconds < 1 || cups < 1 || leastMillilitres < 0) {
      throw new IllegalArgumentException("no event has such rules: " + name);
    }
    if (!(servingCelsius >= 0 && servingCelsius <= 100)) {
      throw new IllegalArgumentException("a cup is served from 0 to 100 °C");
    }
  }
}
