/**
 * One scale that is moved from rig to rig: under which it stands, and what it shows of that rig.
 */
@NullMarked
package pourwright.roving;

import org.jspecify.annotations.NullMarked;
