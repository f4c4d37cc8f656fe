/** What is kept of a run on disk: one folder per run in the data folder, and the result as JSON. */
@NullMarked
package pourwright.record;

import org.jspecify.annotations.NullMarked;
