package pourwright.session;

import pourwright.device.Scale.Heard;

/** What reaches the thread that runs a rehearsal. */
sealed interface Message {

  record FromScale(Stand from, Heard heard) implements Message {}

  record FromBrewer(Command command) implements Message {}
}
