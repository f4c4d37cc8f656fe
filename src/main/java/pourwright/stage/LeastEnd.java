package pourwright.stage;

/** How soon the last dripper can come off at the earliest, by distances and by work. */
final class LeastEnd {
  private final Work work;
  private final Distances distances;
  private final int[] earliest;
  private final int[] length;
  private final int count;

  private LeastEnd(Work work, Distances distances, int[] earliest, int[] length) {
    this.work = work;
    this.distances = distances;
    this.earliest = earliest;
    this.length = length;
    this.count = length.length;
  }

  /**
   * No timetable has its last lift done sooner (s).
   *
   * @param earliest what each brewer needs before its first pour (s)
   * @param length from each brewer's first pour to the end of its lift (s)
   */
  static int of(Work work, Distances distances, int[] earliest, int[] length) {
    return new LeastEnd(work, distances, earliest, length).bound();
  }

  private int bound() {
    int end = 0;
    for (int i = 0; i < count; i++) {
      for (int j = i; j < count; j++) {
        end = Math.max(end, earliest[i] + distances.span(i, j) + length[j]);
      }
    }
    return Math.max(end, HandsBound.lastLift(work, earliestFirsts(), toEnd()));
  }

  /** No first pour of a brewer is sooner than this (s). */
  private int[] earliestFirsts() {
    int[] firsts = earliest.clone();
    int done = 0;
    for (int station = 1; distances.isInOrder() && station < count; station++) {
      // the hands have done this for each brewer before
      done +=
          earliest[station - 1]
              + work.pour(station - 1, 1).seconds()
              + work.routine.hands().travel();
      if (work.speeches.isEmpty()) {
        firsts[station] = Math.max(firsts[station], done + earliest[station]);
      }
      for (int before = 0; before < station; before++) {
        firsts[station] =
            Math.max(firsts[station], firsts[before] + distances.span(before, station));
      }
    }
    return firsts;
  }

  /** From a brewer's first pour to the end of the last lift of all at least (s). */
  private int[] toEnd() {
    int[] toEnd = length.clone();
    for (int station = 0; distances.isInOrder() && station < count; station++) {
      for (int later = station + 1; later < count; later++) {
        toEnd[station] = Math.max(toEnd[station], distances.span(station, later) + length[later]);
      }
    }
    return toEnd;
  }
}
