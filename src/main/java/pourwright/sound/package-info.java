/** What the brewer hears: the notes of every cue, and how they are played on this machine. */
@NullMarked
package pourwright.sound;

import org.jspecify.annotations.NullMarked;
