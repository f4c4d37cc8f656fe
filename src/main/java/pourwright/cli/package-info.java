/** The commands; the only place that wires the parts together. */
@NullMarked
package pourwright.cli;

import org.jspecify.annotations.NullMarked;
