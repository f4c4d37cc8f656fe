/** Runs in and out of the journal: folders and zips that stand for themselves, and any CSV. */
@NullMarked
package pourwright.exchange;

import org.jspecify.annotations.NullMarked;
