/**
 * Statistics of repeated pours: intervals, trends, capability, outliers, and the success-run rule.
 *
 * <p>Distributions, means, deviations and medians come from Hipparchus. Proportions and straight
 * lines are worked out here although it has both (4.0.1): its intervals fail at none of n and at
 * all of n, which is where clean runs lie, and its line misses digits of the certified values.
 */
@NullMarked
package pourwright.statistic;

import org.jspecify.annotations.NullMarked;
