/**
 * What scales say, as bytes: profiles read from text, and the decoder and encoder of each shape.
 */
@NullMarked
package pourwright.device.protocol;

import org.jspecify.annotations.NullMarked;
