/**
 * Statistics of repeated pours that the library does not have ready: intervals, trends, capability,
 * outliers, and the success-run rule. Distributions come from Hipparchus.
 */
@NullMarked
package pourwright.statistic;

import org.jspecify.annotations.NullMarked;
