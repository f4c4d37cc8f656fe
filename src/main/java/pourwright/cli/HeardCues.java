package pourwright.cli;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import pourwright.coach.Cue;
import pourwright.session.Audience;
import pourwright.session.LaneView;
import pourwright.session.RehearsalView;
import pourwright.sound.Loudspeaker;
import pourwright.sound.Signal;

/** Lets this machine sound every new cue of a run. */
final class HeardCues implements Audience {
  private final Loudspeaker speaker;
  private final Map<Integer, Integer> heard = new HashMap<>();

  HeardCues(Loudspeaker speaker) {
    this.speaker = speaker;
  }

  @Override
  public void see(RehearsalView view) {
    for (LaneView lane : view.lanes()) {
      List<Cue> cues = lane.cues();
      int known = heard.getOrDefault(lane.number(), 0);
      for (Cue cue : cues.subList(Math.min(known, cues.size()), cues.size())) {
        signal(cue.kind()).ifPresent(speaker::play);
      }
      heard.put(lane.number(), cues.size());
    }
  }

  /** How a pour went is read, not heard. */
  private static Optional<Signal> signal(Cue.Kind kind) {
    return Stream.of(Signal.values())
        .filter(signal -> signal.name().equals(kind.name()))
        .findFirst();
  }
}
