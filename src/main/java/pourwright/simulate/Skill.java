package pourwright.simulate;

/**
 * How well the simulated brewer pours. Figures are choices that give runs like those people make;
 * no source.
 *
 * @param startBiasSeconds mean lateness of a pour (s), negative when early
 * @param startSpreadSeconds standard deviation of that lateness (s)
 * @param flowBias mean share by which the flow is too high, negative when too low
 * @param flowSpread standard deviation of that share from pour to pour
 * @param wander standard deviation of the flow within a pour, as a share of it
 * @param anticipation share of the overshoot to come that the brewer allows for when stopping: lag
 *     of the display, reaction, the falling stream; 1 lands on the mark
 * @param massSpreadGrams standard deviation of the mark aimed at (g)
 * @param reactionSeconds from seeing the mark to starting to tilt the kettle back (s)
 * @param rampUpSeconds from first water to full flow (s)
 * @param rampDownSeconds from full flow to none (s)
 */
public record Skill(
    double startBiasSeconds,
    double startSpreadSeconds,
    double flowBias,
    double flowSpread,
    double wander,
    double anticipation,
    double massSpreadGrams,
    double reactionSeconds,
    double rampUpSeconds,
    double rampDownSeconds) {

  /** Ready for the stage. */
  public static final Skill SKILLED =
      new Skill(0.1, 0.35, 0.0, 0.03, 0.05, 1.0, 0.4, 0.2, 0.5, 0.35);

  /** Knows the plan, and pours fast and late when watched. */
  public static final Skill NERVOUS =
      new Skill(0.5, 0.8, 0.08, 0.08, 0.12, 0.8, 1.2, 0.3, 0.35, 0.3);

  /** In the first week. */
  public static final Skill LEARNING =
      new Skill(0.9, 1.6, 0.1, 0.15, 0.2, 0.4, 2.5, 0.35, 0.8, 0.6);

  /**
   * Between two brewers.
   *
   * @param share 0 is {@code from}, 1 is {@code to}
   */
  public static Skill between(Skill from, Skill to, double share) {
    return new Skill(
        mix(from.startBiasSeconds, to.startBiasSeconds, share),
        mix(from.startSpreadSeconds, to.startSpreadSeconds, share),
        mix(from.flowBias, to.flowBias, share),
        mix(from.flowSpread, to.flowSpread, share),
        mix(from.wander, to.wander, share),
        mix(from.anticipation, to.anticipation, share),
        mix(from.massSpreadGrams, to.massSpreadGrams, share),
        mix(from.reactionSeconds, to.reactionSeconds, share),
        mix(from.rampUpSeconds, to.rampUpSeconds, share),
        mix(from.rampDownSeconds, to.rampDownSeconds, share));
  }

  private static double mix(double from, double to, double share) {
    return (1 - share) * from + share * to;
  }
}
