package pourwright.stage;

import java.util.List;
import pourwright.plan.Plan;

/**
 * One brewer on the bench.
 *
 * @param name as the brewer calls it
 * @param plan of its pours
 * @param drainSeconds how long the bed takes to run dry after each pour, one for each
 */
public record Station(String name, Plan plan, List<Integer> drainSeconds) {

  public Station {
    drainSeconds = List.copyOf(drainSeconds);
    if (drainSeconds.size() != plan.pours().size()) {
      throw new IllegalArgumentException(
          name
              + " has "
              + plan.pours().size()
              + " pours and "
              + drainSeconds.size()
              + " drain times");
    }
  }
}
