/** What is printed to be taken on stage. */
@NullMarked
package pourwright.card;

import org.jspecify.annotations.NullMarked;
