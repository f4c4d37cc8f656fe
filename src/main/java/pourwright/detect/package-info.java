/**
 * Readings in, pour events out: the state machine that finds pours, drawdown, lift and disturbance.
 */
@NullMarked
package pourwright.detect;

import org.jspecify.annotations.NullMarked;
