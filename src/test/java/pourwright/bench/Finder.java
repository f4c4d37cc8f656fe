package pourwright.bench;

import java.util.List;
import pourwright.detect.Findings;
import pourwright.detect.PourEvent;

/** Anything that finds pours in a recording. */
interface Finder {
  Found find(Take take);

  /**
   * What was found in one recording.
   *
   * @param announced what was said while the recording ran, in order
   * @param findings what is known at its end
   */
  record Found(List<PourEvent> announced, Findings findings) {
    public Found {
      announced = List.copyOf(announced);
    }
  }
}
