package pourwright.detect;

import java.util.ArrayList;
import java.util.List;

/**
 * Answer of a phase to what it was shown.
 *
 * @param next the phase from now on
 * @param events what became certain
 */
record Step(Phase next, List<PourEvent> events) {
  Step {
    events = List.copyOf(events);
  }

  /** The same, with what became certain before it. */
  Step after(List<PourEvent> earlier) {
    List<PourEvent> all = new ArrayList<>(earlier);
    all.addAll(events);
    return new Step(next, all);
  }

  static Step to(Phase next, PourEvent... events) {
    return new Step(next, List.of(events));
  }
}
