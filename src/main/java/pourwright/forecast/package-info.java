/**
 * What a plan will do before it is poured: drain times, levels, beverage, extraction, kettle, and
 * what stands in its way.
 */
@NullMarked
package pourwright.forecast;

import org.jspecify.annotations.NullMarked;
