/** Serial ports, pseudo-terminals too; the only place that sees jSerialComm. */
@NullMarked
package pourwright.device.serial;

import org.jspecify.annotations.NullMarked;
