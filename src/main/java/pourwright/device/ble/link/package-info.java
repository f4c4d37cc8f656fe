/** The life of one Bluetooth link: which state follows which, and what is asked for on the way. */
@NullMarked
package pourwright.device.ble.link;

import org.jspecify.annotations.NullMarked;
