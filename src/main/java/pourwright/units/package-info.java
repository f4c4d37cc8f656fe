/**
 * Values with exact integers inside: mass, flow, session time, and the units people write them in.
 */
@NullMarked
package pourwright.units;

import org.jspecify.annotations.NullMarked;
