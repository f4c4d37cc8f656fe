/** Scales over Bluetooth LE: found, held, and taken again without the brewer. */
@NullMarked
package pourwright.device.ble;

import org.jspecify.annotations.NullMarked;
