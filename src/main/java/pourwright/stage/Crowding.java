package pourwright.stage;

import java.util.List;
import pourwright.stage.Apart.Busy;

/**
 * Whether paper and coffee of all brewers could be seen to in time, were any order of them allowed:
 * for each first pour, what must be done before it is held against what the gaps between the pours
 * can take. A quick look; what it refuses has no room, what it lets pass may have none either.
 */
final class Crowding {
  private final int walk;
  private final int rinse;
  private final int dose;

  /** The most seconds of rinsing and dosing that go into so many seconds of free hands. */
  private final int[] most;

  /**
   * @param reach longest stretch of free hands asked for (s)
   */
  Crowding(Work work, int reach) {
    this.walk = work.leastWalk();
    this.rinse = work.routine.hands().rinse();
    this.dose = work.routine.hands().dose();
    this.most = new int[reach + 1];
    for (int seconds = 0; seconds <= reach; seconds++) {
      for (int block : new int[] {rinse, dose, rinse + dose}) {
        if (block > 0 && block <= seconds) {
          int rest = Math.max(0, seconds - block - walk);
          most[seconds] =
              Math.max(most[seconds], block + (seconds - block < walk ? 0 : most[rest]));
        }
      }
    }
  }

  /**
   * False when there is surely no room.
   *
   * @param fixed busy hands in order of time (s of the clock)
   * @param first second of each brewer's first pour, or the last possible
   */
  boolean mayFit(List<Busy> fixed, int[] first) {
    for (int by : first) {
      if (needed(first, by) > room(fixed, by)
          || needed(first, by - dose) > room(fixed, by - dose)) {
        return false;
      }
    }
    return true;
  }

  /** What must be done by then (s). */
  private int needed(int[] first, int by) {
    int sum = 0;
    for (int pour : first) {
      sum += pour <= by ? rinse + dose : pour - dose <= by ? rinse : 0;
    }
    return sum;
  }

  private int room(List<Busy> fixed, int by) {
    int room = 0;
    int free = 0;
    int entry = 0;
    for (Busy busy : fixed) {
      if (busy.offset() >= by) {
        break;
      }
      boolean isFirst = busy.job().chore() == Chore.POUR && busy.job().pour() == 1;
      room += within(busy.offset() - free - entry - (isFirst ? 0 : walk));
      free = busy.offset() + busy.job().seconds();
      entry = walk; // a brewer who was poured needs neither paper nor coffee
    }
    return room + within(by - free - entry);
  }

  private int within(int seconds) {
    return seconds <= 0 ? 0 : most[Math.min(seconds, most.length - 1)];
  }
}
