/** The checks of each scale on disk: one file each, read back to see what changed. */
@NullMarked
package pourwright.history;

import org.jspecify.annotations.NullMarked;
