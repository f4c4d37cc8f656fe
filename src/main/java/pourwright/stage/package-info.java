/**
 * Several brewers, one pair of hands, one kettle, one clock: who is served when, proven best where
 * that can be proven, or the rules that clash.
 */
@NullMarked
package pourwright.stage;

import org.jspecify.annotations.NullMarked;
