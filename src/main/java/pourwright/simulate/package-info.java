/**
 * A brewer, a rig and its scales as physics: what a scale would say while a plan is poured, and
 * what really happened.
 */
@NullMarked
package pourwright.simulate;

import org.jspecify.annotations.NullMarked;
