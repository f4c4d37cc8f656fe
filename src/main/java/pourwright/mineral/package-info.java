/** What is dissolved in brewing water: hardness, alkalinity, and how to blend for a target. */
@NullMarked
package pourwright.mineral;

import org.jspecify.annotations.NullMarked;
