package pourwright.builder;

import java.io.IOException;
import java.util.List;
import pourwright.forecast.PastRun;

/** Where kept runs come from. */
@FunctionalInterface
public interface Past {

  /**
   * The runs of a plan that count, in any order.
   *
   * @param title of the plan
   * @param areSimulated those of the simulated brewer instead of one's own
   * @throws IOException with one plain sentence
   */
  List<PastRun> runs(String title, boolean areSimulated) throws IOException;
}
