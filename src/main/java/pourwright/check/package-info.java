/**
 * The guided check of a scale: what to put on and take off, whether that was done, what came of it,
 * and whether the scale is good enough for a plan.
 */
@NullMarked
package pourwright.check;

import org.jspecify.annotations.NullMarked;
