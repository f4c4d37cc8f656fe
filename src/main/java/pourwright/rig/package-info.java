/** What stands on which scale: the rig and the places in it that are weighed. */
@NullMarked
package pourwright.rig;

import org.jspecify.annotations.NullMarked;
