/** The contracts of a connected scale: bytes in order, what they mean, and where they come from. */
@NullMarked
package pourwright.device;

import org.jspecify.annotations.NullMarked;
