/** Actual pours against planned ones: alignment, errors, verdicts, deviation index. */
@NullMarked
package pourwright.compare;

import org.jspecify.annotations.NullMarked;
