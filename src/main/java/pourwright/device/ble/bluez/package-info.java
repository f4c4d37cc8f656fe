/** The system's Bluetooth on Linux, BlueZ, spoken to over D-Bus; the only place that sees D-Bus. */
@NullMarked
package pourwright.device.ble.bluez;

import org.jspecify.annotations.NullMarked;
