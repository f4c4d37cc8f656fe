package pourwright.performance;

/**
 * Error of indication at one load.
 *
 * @param loadGrams what was on the scale
 * @param error shown less true (g)
 */
public record LoadError(double loadGrams, Estimate error) {}
