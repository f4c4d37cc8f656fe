/** The files people keep: traces (CSV) and raw streams, read and written. */
@NullMarked
package pourwright.recording;

import org.jspecify.annotations.NullMarked;
