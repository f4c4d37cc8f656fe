/**
 * What weighing metrology knows: tolerances of test weights, error steps of scales, uncertainty
 * budgets, air buoyancy.
 */
@NullMarked
package pourwright.metrology;

import org.jspecify.annotations.NullMarked;
