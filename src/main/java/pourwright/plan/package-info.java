/** The planned pours and the reader of plan files. */
@NullMarked
package pourwright.plan;

import org.jspecify.annotations.NullMarked;
