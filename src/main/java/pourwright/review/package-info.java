/**
 * What many runs together say: habits of each pour, what costs most, readiness, feedback, the cup.
 *
 * <p>Reviews never fetch runs; they are given them. All intervals are at {@link
 * pourwright.review.Series#CONFIDENCE}.
 */
@NullMarked
package pourwright.review;

import org.jspecify.annotations.NullMarked;
