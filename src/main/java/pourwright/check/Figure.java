package pourwright.check;

import pourwright.performance.Estimate;

/**
 * One figure of a scale.
 *
 * @param key stable name for files, with its unit
 * @param name in plain words
 * @param unit of the estimate
 * @param note what it holds for, may be empty
 */
public record Figure(String key, String name, String unit, Estimate estimate, String note) {}
