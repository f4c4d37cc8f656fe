/** From dose, water and shares to a schedule of pours, and what a change does to the cup. */
@NullMarked
package pourwright.recipe;

import org.jspecify.annotations.NullMarked;
