/** Recordings played through the device layer, at any speed, with the times they were made at. */
@NullMarked
package pourwright.device.replay;

import org.jspecify.annotations.NullMarked;
