package pourwright.journal;

import java.util.List;
import java.util.Map;
import pourwright.device.Transport.Arrival;
import pourwright.recording.Trace;
import pourwright.rig.Place;

/**
 * A run with everything that belongs to it, to be carried from one journal to another.
 *
 * @param key of its rehearsal, the same in every copy
 * @param lane whose of the rehearsal it is, from 1
 * @param fadedRun how many runs were made under fading feedback before it
 * @param run its own id means nothing elsewhere
 * @param judgements the oldest first; the last one counts
 * @param wires what came over the wire of each scale; may be empty
 * @param trace what it weighed
 */
public record WholeRun(
    String key,
    int lane,
    int fadedRun,
    KeptRun run,
    List<Judgement> judgements,
    Map<Place, List<Arrival>> wires,
    Trace trace) {
  public WholeRun {
    judgements = List.copyOf(judgements);
    wires = Map.copyOf(wires);
  }
}
