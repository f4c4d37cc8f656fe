/** What the plan page asks and is told, and the same results as JSON for the command line. */
@NullMarked
package pourwright.builder;

import org.jspecify.annotations.NullMarked;
