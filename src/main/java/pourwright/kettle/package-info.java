/** How much water a kettle holds and how hot it is, through a routine. */
@NullMarked
package pourwright.kettle;

import org.jspecify.annotations.NullMarked;
