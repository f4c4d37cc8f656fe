package pourwright.stage;

/**
 * A set of whole seconds, negative ones too, in words of 64 so that a whole range is cut at once.
 */
final class Seconds {
  static final int NONE = Integer.MAX_VALUE;

  private static final int WORD = 64;

  private final int least;
  private final long[] words;

  private Seconds(int least, long[] words) {
    this.least = least;
    this.words = words;
  }

  /** An empty set with room for the seconds from {@code -reach} to {@code reach}. */
  static Seconds within(int reach) {
    return new Seconds(-reach, new long[(2 * reach) / WORD + 1]);
  }

  Seconds copy() {
    return new Seconds(least, words.clone());
  }

  /** Adds all seconds in a range; what lies out of reach is left out. */
  void add(int from, int to) {
    for (int second = Math.max(from, least); second <= Math.min(to, most()); second++) {
      words[(second - least) / WORD] |= 1L << (second - least);
    }
  }

  void remove(int from, int to) {
    for (int second = Math.max(from, least); second <= Math.min(to, most()); second++) {
      words[(second - least) / WORD] &= ~(1L << (second - least));
    }
  }

  boolean has(int second) {
    return second >= least
        && second <= most()
        && (words[(second - least) / WORD] & 1L << (second - least)) != 0;
  }

  /** The first member that is not before {@code from}, or {@link #NONE}. */
  int next(int from) {
    int place = Math.max(0, from - least);
    int word = place / WORD;
    if (word >= words.length) {
      return NONE;
    }
    long rest = words[word] & -1L << place;
    while (rest == 0) {
      word++;
      if (word == words.length) {
        return NONE;
      }
      rest = words[word];
    }
    return least + word * WORD + Long.numberOfTrailingZeros(rest);
  }

  /**
   * Keeps only what lies {@code later} seconds after a member of {@code other}.
   *
   * @param other of the same reach
   */
  void retainLater(Seconds other, int later) {
    int jump = Math.floorDiv(later, WORD);
    int bits = Math.floorMod(later, WORD);
    for (int i = 0; i < words.length; i++) {
      long low = other.word(i - jump) << bits;
      long high = bits == 0 ? 0 : other.word(i - jump - 1) >>> (WORD - bits);
      words[i] &= low | high;
    }
  }

  private long word(int i) {
    return i < 0 || i >= words.length ? 0 : words[i];
  }

  private int most() {
    return least + words.length * WORD - 1;
  }
}
