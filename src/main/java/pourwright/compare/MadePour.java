package pourwright.compare;

import pourwright.detect.Findings;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * A pour that was found, as far as it is held against a plan.
 *
 * @param index counts the pours of the recording from 1
 * @param start first water
 * @param end last water, not before the start
 */
public record MadePour(int index, SessionTime start, SessionTime end, Mass poured, Flow meanFlow) {

  public static MadePour of(Findings.Pour pour) {
    return new MadePour(pour.index(), pour.start(), pour.end(), pour.poured(), pour.meanFlow());
  }

  double seconds() {
    return end.secondsSince(start);
  }
}
