package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import pourwright.reading.Stability;
import pourwright.rig.Rig;
import pourwright.units.SessionTime;

/**
 * A finished recording, seen first as the live detector saw it and then with hindsight.
 *
 * @param announced what the causal detector said, in the order in which it said it
 * @param findings the same events with the best estimates
 */
public record Analysis(List<PourEvent> announced, Findings findings) {
  /**
   * Version of the detector, kept with everything it found. Goes up with every change that may
   * change a result, so that old runs can be looked through anew.
   */
  public static final int VERSION = 3;

  public Analysis {
    announced = List.copyOf(announced);
  }

  /**
   * Runs the causal detector over the readings in the order of their arrival, then the second pass.
   *
   * @param curves one for each place of the rig
   */
  public static Analysis of(Rig rig, DetectorSettings settings, List<Curve> curves) {
    List<PourEvent> announced = new ArrayList<>();
    Detector detector = new Detector(rig, settings, announced::add);
    int[] next = new int[curves.size()];
    long last = 0;
    while (true) {
      int earliest = -1;
      for (int c = 0; c < next.length; c++) {
        if (next[c] < curves.get(c).size()
            && (earliest < 0
                || curves.get(c).atNanos(next[c]) < curves.get(earliest).atNanos(next[earliest]))) {
          earliest = c;
        }
      }
      if (earliest < 0) {
        break;
      }
      Curve curve = curves.get(earliest);
      int index = next[earliest]++;
      last = curve.atNanos(index);
      detector.weigh(curve.place(), last, curve.nanograms(index), Stability.UNSTATED);
    }
    detector.finish(SessionTime.ofNanos(last));
    return new Analysis(announced, Hindsight.of(rig, settings, curves, announced));
  }
}
