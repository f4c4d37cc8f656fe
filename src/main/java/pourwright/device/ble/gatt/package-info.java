/** What a program at the receiving end of Bluetooth LE can ask of the system, and what it hears. */
@NullMarked
package pourwright.device.ble.gatt;

import org.jspecify.annotations.NullMarked;
