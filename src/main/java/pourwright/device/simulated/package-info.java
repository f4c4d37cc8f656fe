/**
 * A simulated scale that speaks the bytes of a profile, so that it goes through the device layer.
 */
@NullMarked
package pourwright.device.simulated;

import org.jspecify.annotations.NullMarked;
