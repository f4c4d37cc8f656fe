package pourwright.detect;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The last seconds of one scale in constant memory: readings gathered into bins of equal length,
 * and what their scatter says about the scale.
 *
 * <p>Fast streams are averaged into bins of at least {@link #SHORTEST_BIN}; a slow stream has one
 * reading in each. Masses are grams above the first reading, so that a constant on all readings
 * changes nothing; times are seconds since it.
 */
final class Signal {
  static final int CAPACITY = 256;

  /**
   * Half of a bin's least length (s). Far below the fastest thing to be told apart, and it bounds
   * the cost of an 80 Hz scale.
   */
  static final double SHORTEST_BIN = 0.024;

  /** What shakes longer than this is the scale itself, not a hand (s). */
  private static final double LONGEST_UPSET = 8;

  /** Tares that are remembered; a button is not pressed more often in the time kept. */
  private static final int ZEROS = 4;

  private final Blocks bins = new Blocks(SHORTEST_BIN, CAPACITY);

  private final double knownNoise;
  private final SampleClock clock = new SampleClock();
  private final Scatter scatter = new Scatter();

  private double newest;
  private double arrival;
  private double resolution = Double.POSITIVE_INFINITY;

  /** The newest reading, while it waits for the next one to tell its time. */
  private boolean isOpen;

  private double openArrival;
  private double openGrams;
  private double openDisplayed;
  private double lastMass;
  private double massBeforeLast;
  private final double[] zeroTimes = new double[ZEROS];
  private final double[] zeroTooks = new double[ZEROS];
  private final double[] zeroFroms = new double[ZEROS];
  private int zeros;
  private boolean resting = true;
  private double upsetSince = Double.POSITIVE_INFINITY;

  /**
   * An empty memory.
   *
   * @param knownNoise measured standard deviation of one reading at rest (g), the least that is
   *     believed; 0 where it was not measured
   */
  Signal(double knownNoise) {
    this.knownNoise = knownNoise;
  }

  /**
   * Takes one reading.
   *
   * @param arrivedAt (s since the first reading)
   * @param grams above the first reading
   * @param displayed what the scale shows (g)
   * @return whether it completed a bin
   */
  boolean add(double arrivedAt, double grams, double displayed) {
    boolean completes = isOpen && take(openArrival, openGrams, openDisplayed, arrivedAt);
    isOpen = !isOpen && clock.isOpen(arrivedAt);
    if (isOpen) {
      openArrival = arrivedAt;
      openGrams = grams;
      openDisplayed = displayed;
      return false;
    }
    return take(arrivedAt, grams, displayed, Double.POSITIVE_INFINITY) || completes;
  }

  private boolean take(double arrivedAt, double grams, double displayed, double next) {
    double time = clock.timeOf(arrivedAt, next);
    boolean isFirst = bins.isEmpty();
    if (!isFirst) {
      double change = Math.abs(grams - lastMass);
      if (change > 1e-6 && change < resolution) {
        resolution = change;
      }
      if (lastMass - grams > Judgement.LEAST_TARE
          && Math.abs(displayed)
              < Math.max(0.1, Math.max(1.01 * finiteResolution(), 3 * noise()))) {
        zeroTimes[zeros % ZEROS] = time;
        zeroFroms[zeros % ZEROS] = lastMass;
        zeroTooks[zeros % ZEROS] = Math.max(lastMass, massBeforeLast) - grams;
        zeros++;
      }
    }
    massBeforeLast = isFirst ? grams : lastMass;
    lastMass = grams;
    arrival = arrivedAt;
    // before the period is known, the last wait stands for it
    double usual = clock.period() > 0 ? clock.period() : time - newest;
    newest = time;
    if (!bins.add(time, grams, usual)) {
      return false;
    }
    if (time < upsetSince || time > upsetSince + LONGEST_UPSET) {
      scatter.see(this, resting);
    } else {
      scatter.forgetNeighbours();
    }
    return true;
  }

  /**
   * What is going on, as far as is known: slow wander is learned only at rest, and nothing while
   * the rig is shaken.
   */
  void during(Outlook.Doing doing) {
    resting = doing == Outlook.Doing.RESTING;
    boolean isUpset = doing == Outlook.Doing.DISTURBED;
    upsetSince = isUpset ? Math.min(upsetSince, newest) : Double.POSITIVE_INFINITY;
  }

  /** Readings were missing: nothing from before may be joined with what comes. */
  void tear() {
    isOpen = false;
    clock.restart();
    bins.startAfresh();
    scatter.forgetNeighbours();
  }

  /** How many bins are kept. */
  int size() {
    return bins.size();
  }

  /** Time of the bin {@code back} before the newest (s). */
  double time(int back) {
    return bins.time(back);
  }

  /** Mass of the bin {@code back} before the newest (g above the first reading). */
  double mass(int back) {
    return bins.mass(back);
  }

  /** Arrival of the newest reading (s). */
  double arrival() {
    return arrival;
  }

  /** Time of the newest reading (s). */
  double newest() {
    return newest;
  }

  /** Bins since {@code time}, newest included; at most those kept. */
  int binsSince(double time) {
    return bins.countSince(time);
  }

  /** Mean time between readings (s). */
  double period() {
    return clock.period();
  }

  /** Mean time between bins (s). */
  double binSeconds() {
    int known = Math.min(size(), 32);
    return known < 3 ? Math.max(period(), 0.05) : (time(0) - time(known - 1)) / (known - 1);
  }

  /** When the display last fell to zero from one reading to the next (s). */
  double zeroedAt() {
    return zeros == 0 ? Double.NEGATIVE_INFINITY : zeroTimes[(zeros - 1) % ZEROS];
  }

  /** By how much the display fell then, all times since {@code since} (g). */
  double zeroTook(double since) {
    double sum = 0;
    for (int i = Math.max(0, zeros - ZEROS); i < zeros; i++) {
      sum += zeroTimes[i % ZEROS] >= since ? zeroTooks[i % ZEROS] : 0;
    }
    return sum;
  }

  /** The reading before it first fell so since {@code since} (g); infinite where it did not. */
  double zeroFrom(double since) {
    for (int i = Math.max(0, zeros - ZEROS); i < zeros; i++) {
      if (zeroTimes[i % ZEROS] >= since) {
        return zeroFroms[i % ZEROS];
      }
    }
    return Double.POSITIVE_INFINITY;
  }

  /** Each time that it did since {@code since}, oldest first: when (s) and by how much (g). */
  List<double[]> listZeros(double since) {
    List<double[]> found = new ArrayList<>();
    for (int i = Math.max(0, zeros - ZEROS); i < zeros; i++) {
      if (zeroTimes[i % ZEROS] >= since) {
        found.add(new double[] {zeroTimes[i % ZEROS], zeroTooks[i % ZEROS]});
      }
    }
    return found;
  }

  /** Smallest step seen between two readings (g), 0 before the mass moved. */
  double resolution() {
    return finiteResolution();
  }

  private double finiteResolution() {
    return Double.isInfinite(resolution) ? 0 : resolution;
  }

  /** Standard deviation of one bin at rest (g), as far as the change tests must fear it. */
  double noise() {
    double floor = finiteResolution() / Math.sqrt(12);
    double known = knownNoise / Math.sqrt(bins.inNewest());
    return Math.max(Scatter.FLOOR, Math.max(floor, Math.max(known, scatter.sigma())));
  }

  /** Scatter seen so far between neighbours (g). */
  Scatter scatter() {
    return scatter;
  }

  /** Mean mass of the bins in the time given (g); NaN when there is none. */
  double level(double from, double to) {
    double sum = 0;
    int n = 0;
    for (int back = 0; back < size() && time(back) >= from; back++) {
      if (time(back) <= to) {
        sum += mass(back);
        n++;
      }
    }
    return n == 0 ? Double.NaN : sum / n;
  }

  /**
   * How much a scale scatters, from the second differences of neighbouring bins (a steady flow has
   * none) and of half-second blocks of them (slow wander that neighbours do not show).
   */
  static final class Scatter {
    /** No scale for the kitchen is better than this (g); own choice. */
    static final double FLOOR = 0.01;

    private static final int KEPT = 32;
    private static final int BLOCKS = 16;
    private static final double BLOCK_SECONDS = 0.5;

    /** Median of |x| for a standard normal x. */
    private static final double MEDIAN_OF_NORMAL = 0.6745;

    /** A median of few is taken high by this many of its standard errors, about. */
    private static final double FEW_SAMPLES = 1.5;

    private static final double SECOND_DIFFERENCE = Math.sqrt(6);

    private final double[] kept = new double[KEPT];
    private final double[] keptBlocks = new double[BLOCKS];
    private final double[] scratch = new double[KEPT];
    private int count;
    private int blockCount;
    private int neighbours;
    private double sigma;
    private double wander;

    private double blockSum;
    private int blockSize;
    private double blockStart;
    private double block1;
    private double block2;
    private int blocksInRow;

    void see(Signal signal, boolean resting) {
      neighbours++;
      if (neighbours >= 3) {
        double second = signal.mass(0) - 2 * signal.mass(1) + signal.mass(2);
        kept[count % KEPT] = Math.abs(second);
        count++;
        if (count % 8 == 0 || count < 8) {
          int known = Math.min(count, KEPT);
          double doubt = 1 + FEW_SAMPLES * (1 / Math.sqrt(known) - 1 / Math.sqrt(KEPT));
          sigma = doubt * median(kept, known) / (MEDIAN_OF_NORMAL * SECOND_DIFFERENCE);
        }
      }
      if (resting) {
        gatherBlock(signal.time(0), signal.mass(0));
      } else {
        blocksInRow = 0;
        blockSize = 0;
        blockSum = 0;
      }
    }

    private void gatherBlock(double time, double mass) {
      if (blockSize == 0) {
        blockStart = time;
      }
      blockSum += mass;
      blockSize++;
      if (time - blockStart < BLOCK_SECONDS) {
        return;
      }
      double mean = blockSum / blockSize;
      blocksInRow++;
      if (blocksInRow >= 3) {
        double second = Math.abs(mean - 2 * block1 + block2) * Math.sqrt(blockSize);
        keptBlocks[blockCount % BLOCKS] = second;
        blockCount++;
        wander =
            blockCount < 6
                ? 0
                : median(keptBlocks, Math.min(blockCount, BLOCKS))
                    / (MEDIAN_OF_NORMAL * SECOND_DIFFERENCE);
      }
      block2 = block1;
      block1 = mean;
      blockSum = 0;
      blockSize = 0;
    }

    void forgetNeighbours() {
      neighbours = 0;
      blocksInRow = 0;
      blockSize = 0;
      blockSum = 0;
    }

    /** Standard deviation of one bin (g), enlarged where slow wander asks for it. */
    double sigma() {
      return Math.max(sigma, Math.min(wander, MOST_WANDER * Math.max(sigma, FLOOR)));
    }

    /** The blocks of a brew with much pouring wander too; they may enlarge only this far. */
    private static final double MOST_WANDER = 3;

    private double median(double[] values, int n) {
      System.arraycopy(values, 0, scratch, 0, n);
      Arrays.sort(scratch, 0, n);
      return n % 2 == 1 ? scratch[n / 2] : (scratch[n / 2 - 1] + scratch[n / 2]) / 2;
    }
  }
}
