/** The journal: every run in one file, from the first byte on the wire to the taste of the cup. */
@NullMarked
package pourwright.journal;

import org.jspecify.annotations.NullMarked;
