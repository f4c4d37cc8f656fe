/** The profiles at hand: those that ship with the program and the user's own. */
@NullMarked
package pourwright.device.catalogue;

import org.jspecify.annotations.NullMarked;
