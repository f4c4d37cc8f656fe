/** What to tell the brewer now. */
@NullMarked
package pourwright.coach;

import org.jspecify.annotations.NullMarked;
