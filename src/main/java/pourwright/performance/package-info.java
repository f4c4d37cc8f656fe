/**
 * What readings taken on a scale say of that scale: each figure with its standard uncertainty and
 * an interval.
 *
 * <p>Rules: JCGM 100:2008 (GUM). A rounded display is treated exactly where noise blurs it, see
 * {@link pourwright.performance.Rounding}.
 */
@NullMarked
package pourwright.performance;

import org.jspecify.annotations.NullMarked;
