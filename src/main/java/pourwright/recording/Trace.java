package pourwright.recording;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * The weights of one recording in order of time, held in 17 bytes each so that hours at a high rate
 * fit in memory. Immutable.
 */
public final class Trace {
  private static final int BLOCK_BITS = 14;
  private static final int BLOCK = 1 << BLOCK_BITS;

  private static final int SERVER = 1;
  private static final int STABLE = 2;
  private static final int MOVING = 4;

  private final List<long[]> nanos;
  private final List<long[]> nanograms;
  private final List<byte[]> marks;
  private final int size;
  private final Set<Place> places;

  private Trace(Builder built) {
    this.nanos = List.copyOf(built.nanos);
    this.nanograms = List.copyOf(built.nanograms);
    this.marks = List.copyOf(built.marks);
    this.size = built.size;
    this.places = Set.copyOf(built.places);
  }

  public int size() {
    return size;
  }

  /** The places that have at least one weight. */
  public Set<Place> places() {
    return places;
  }

  /** When weight {@code index} arrived (ns since the start of the recording). */
  public long nanosAt(int index) {
    return nanos.get(checked(index) >> BLOCK_BITS)[index & (BLOCK - 1)];
  }

  /** Weight {@code index} (ng), signed. */
  public long nanogramsAt(int index) {
    return nanograms.get(checked(index) >> BLOCK_BITS)[index & (BLOCK - 1)];
  }

  public Stability stabilityAt(int index) {
    int mark = markAt(index);
    if ((mark & STABLE) != 0) {
      return Stability.STABLE;
    }
    return (mark & MOVING) != 0 ? Stability.MOVING : Stability.UNSTATED;
  }

  public Place placeAt(int index) {
    return (markAt(index) & SERVER) != 0 ? Place.SERVER : Place.WHOLE;
  }

  public Reading readingAt(int index) {
    return new Reading(
        SessionTime.ofNanos(nanosAt(index)),
        Mass.ofNanograms(nanogramsAt(index)),
        stabilityAt(index));
  }

  /** Only what was weighed at {@code place}. */
  public Trace only(Place place) {
    if (places.equals(Set.of(place))) {
      return this;
    }
    Builder kept = new Builder();
    for (int index = 0; index < size; index++) {
      if (placeAt(index) == place) {
        kept.add(nanosAt(index), nanogramsAt(index), stabilityAt(index), place);
      }
    }
    return kept.build();
  }

  private int markAt(int index) {
    return marks.get(checked(index) >> BLOCK_BITS)[index & (BLOCK - 1)];
  }

  private int checked(int index) {
    if (index < 0 || index >= size) {
      throw new IndexOutOfBoundsException("weight " + index + " of " + size);
    }
    return index;
  }

  /** Collects a trace; grows in blocks, so that nothing is ever copied. */
  public static final class Builder implements Rows {
    private final List<long[]> nanos = new ArrayList<>();
    private final List<long[]> nanograms = new ArrayList<>();
    private final List<byte[]> marks = new ArrayList<>();
    private final Set<Place> places = EnumSet.noneOf(Place.class);
    private int size;

    /**
     * Adds the next weight.
     *
     * @throws IllegalArgumentException when it is earlier than the one before
     */
    @Override
    public void add(long atNanos, long massNanograms, Stability stability, Place place) {
      int inside = size & (BLOCK - 1);
      if (size > 0 && atNanos < lastNanos()) {
        throw new IllegalArgumentException("time goes back at weight " + size);
      }
      if (inside == 0) {
        nanos.add(new long[BLOCK]);
        nanograms.add(new long[BLOCK]);
        marks.add(new byte[BLOCK]);
      }
      int block = size >> BLOCK_BITS;
      nanos.get(block)[inside] = atNanos;
      nanograms.get(block)[inside] = massNanograms;
      marks.get(block)[inside] = mark(stability, place);
      places.add(place);
      size++;
    }

    private static byte mark(Stability stability, Place place) {
      int settled =
          switch (stability) {
            case STABLE -> STABLE;
            case MOVING -> MOVING;
            case UNSTATED -> 0;
          };
      return (byte) (place == Place.SERVER ? settled | SERVER : settled);
    }

    private long lastNanos() {
      int last = size - 1;
      return nanos.get(last >> BLOCK_BITS)[last & (BLOCK - 1)];
    }

    public Builder add(Reading reading, Place place) {
      add(reading.at().nanos(), reading.mass().nanograms(), reading.stability(), place);
      return this;
    }

    /** The weights so far; add no more to this builder afterwards. */
    public Trace build() {
      return new Trace(this);
    }
  }

  /** Takes the weights of a trace one by one, in order of time. */
  @FunctionalInterface
  public interface Rows {
    /**
     * Takes the next weight.
     *
     * @param atNanos since the start of the recording (ns), never earlier than the one before
     * @param massNanograms signed (ng)
     */
    void add(long atNanos, long massNanograms, Stability stability, Place place);
  }
}
