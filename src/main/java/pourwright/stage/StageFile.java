package pourwright.stage;

/**
 * All that a routine file says.
 *
 * @param title what the brewer calls it
 * @param rules of the event
 * @param spreads of the brewer
 */
public record StageFile(String title, Routine routine, EventRules rules, Spreads spreads) {

  public StageFile withSpreads(Spreads other) {
    return new StageFile(title, routine, rules, other);
  }

  public StageFile withRoutine(Routine other) {
    return new StageFile(title, other, rules, spreads);
  }
}
