/**
 * How a bed of grounds drains: falling head through a packed bed, its permeability fitted from runs
 * where the drained moment was measured or marked.
 */
@NullMarked
package pourwright.bed;

import org.jspecify.annotations.NullMarked;
