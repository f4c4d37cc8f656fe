/** What pure liquid water does at a temperature: its density and viscosity. */
@NullMarked
package pourwright.water;

import org.jspecify.annotations.NullMarked;
