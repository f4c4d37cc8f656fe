/** The second way to the system's Bluetooth, by the native TinyB library; off by default. */
@NullMarked
package pourwright.device.ble.tinyb;

import org.jspecify.annotations.NullMarked;
