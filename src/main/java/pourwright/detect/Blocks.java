package pourwright.detect;

/** The newest of a weight as means over stretches of equal length, in constant memory. */
final class Blocks {
  private final double seconds;
  private final double[] times;
  private final double[] masses;
  private int newest = -1;
  private int size;
  private double began;
  private double sumTime;
  private double sumMass;
  private int gathered;
  private int inNewest = 1;

  /**
   * An empty memory.
   *
   * @param seconds least length of a block (s)
   * @param capacity how many are kept
   */
  Blocks(double seconds, int capacity) {
    this.seconds = seconds;
    this.times = new double[capacity];
    this.masses = new double[capacity];
  }

  /**
   * Takes one weight.
   *
   * @param time never before the one before it (s)
   * @param grams of it (g)
   * @param period until the next one is to be expected (s)
   * @return whether it completed a block
   */
  boolean add(double time, double grams, double period) {
    if (gathered == 0) {
      began = time;
    }
    sumTime += time;
    sumMass += grams;
    gathered++;
    if (time - began + period / 2 < seconds) {
      return false;
    }
    newest = newest + 1 < times.length ? newest + 1 : 0;
    times[newest] = sumTime / gathered;
    masses[newest] = sumMass / gathered;
    inNewest = gathered;
    size = Math.min(size + 1, times.length);
    startAfresh();
    return true;
  }

  /** Forgets everything: what comes has nothing to do with what was. */
  void clear() {
    size = 0;
    startAfresh();
  }

  /** Forgets what was gathered since the last block: the next begins a new one. */
  void startAfresh() {
    gathered = 0;
    sumTime = 0;
    sumMass = 0;
  }

  /** Whether no weight has come yet. */
  boolean isEmpty() {
    return size == 0 && gathered == 0;
  }

  /** How many blocks are kept. */
  int size() {
    return size;
  }

  /** How many weights make up the newest block. */
  int inNewest() {
    return inNewest;
  }

  /** Time of the block {@code back} before the newest (s). */
  double time(int back) {
    return times[slot(back)];
  }

  /** Mass of the block {@code back} before the newest (g). */
  double mass(int back) {
    return masses[slot(back)];
  }

  private int slot(int back) {
    return back <= newest ? newest - back : newest - back + times.length;
  }

  /** How many blocks there are since {@code time}. */
  int countSince(double time) {
    int n = 0;
    while (n < size && time(n) >= time) {
      n++;
    }
    return n;
  }
}
