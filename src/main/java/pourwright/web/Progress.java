package pourwright.web;

import java.util.HashMap;
import java.util.Map;

/** How much of a run one client has been sent; guarded by its subscriber. */
final class Progress {
  int run;
  long view;
  int outcome;

  /** Points of the trace sent, by lane. */
  final Map<Integer, Integer> points = new HashMap<>();

  void startRun(int number) {
    run = number;
    view = 0;
    outcome = 0;
    points.clear();
  }
}
