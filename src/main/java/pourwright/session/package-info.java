/** One rehearsal: listen, detect, compare, coach, keep, publish. */
@NullMarked
package pourwright.session;

import org.jspecify.annotations.NullMarked;
