/** One weight at one moment, as a scale said it. */
@NullMarked
package pourwright.reading;

import org.jspecify.annotations.NullMarked;
