/** Where the program keeps what it keeps, and what was found in a run as JSON. */
@NullMarked
package pourwright.record;

import org.jspecify.annotations.NullMarked;
