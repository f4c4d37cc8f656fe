package pourwright.journal;

import java.util.Arrays;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.recording.Trace;
import pourwright.rig.Place;

/**
 * The weights of one scale in few bytes and without loss. A tape holds, column by column:
 *
 * <ul>
 *   <li>how many there are;
 *   <li>the greatest step (ns) of which every time is a multiple, the first time, and the usual
 *       time between two, in those steps;
 *   <li>how much each time differs from the one before plus the usual time between two;
 *   <li>the greatest step (ng) of which every mass is a multiple, and each mass less the one
 *       before;
 *   <li>the scale's own opinion, as runs of equal ones.
 * </ul>
 *
 * <p>Grows while it is filled; one thread.
 */
final class WeightTape {
  private static final int FIRST_CAPACITY = 256;
  private static final Stability[] OPINIONS = {
    Stability.UNSTATED, Stability.STABLE, Stability.MOVING
  };

  private long[] nanos = new long[FIRST_CAPACITY];
  private long[] nanograms = new long[FIRST_CAPACITY];
  private byte[] opinions = new byte[FIRST_CAPACITY];
  private int size;

  /** All of a trace that was weighed at {@code place}. */
  static WeightTape of(Trace trace, Place place) {
    WeightTape tape = new WeightTape();
    for (int i = 0; i < trace.size(); i++) {
      if (trace.placeAt(i) == place) {
        tape.add(trace.nanosAt(i), trace.nanogramsAt(i), trace.stabilityAt(i));
      }
    }
    return tape;
  }

  int size() {
    return size;
  }

  void add(Reading reading) {
    add(reading.at().nanos(), reading.mass().nanograms(), reading.stability());
  }

  void add(long atNanos, long massNanograms, Stability stability) {
    if (size == nanos.length) {
      nanos = Arrays.copyOf(nanos, 2 * size);
      nanograms = Arrays.copyOf(nanograms, 2 * size);
      opinions = Arrays.copyOf(opinions, 2 * size);
    }
    nanos[size] = atNanos;
    nanograms[size] = massNanograms;
    opinions[size] = opinion(stability);
    size++;
  }

  private static byte opinion(Stability stability) {
    return switch (stability) {
      case UNSTATED -> 0;
      case STABLE -> 1;
      case MOVING -> 2;
    };
  }

  /** Weights {@code from} (inclusive) to the newest. */
  byte[] write(int from) {
    TapeOutput tape = new TapeOutput();
    int count = size - from;
    tape.unsigned(count);
    if (count == 0) {
      return tape.deflated();
    }
    long step = step(nanos, from);
    long first = nanos[from] / step;
    long usual = count == 1 ? 0 : (nanos[size - 1] / step - first) / (count - 1);
    tape.unsigned(step).signed(first).signed(usual);
    for (int i = from + 1; i < size; i++) {
      tape.signed((nanos[i] - nanos[i - 1]) / step - usual);
    }
    long mark = step(nanograms, from);
    tape.unsigned(mark);
    for (int i = from; i < size; i++) {
      tape.signed((nanograms[i] - (i == from ? 0 : nanograms[i - 1])) / mark);
    }
    for (int i = from; i < size; ) {
      int end = i + 1;
      while (end < size && opinions[end] == opinions[i]) {
        end++;
      }
      tape.unsigned(opinions[i]).unsigned(end - i);
      i = end;
    }
    return tape.deflated();
  }

  /** Greatest common divisor of all values; 1 when all are zero. */
  private long step(long[] values, int from) {
    long step = 0;
    for (int i = from; i < size && step != 1; i++) {
      long other = Math.abs(values[i]);
      while (other != 0) {
        long rest = step % other;
        step = other;
        other = rest;
      }
    }
    return Math.max(1, step);
  }

  /** Reads a tape into {@code rows}. */
  static void read(byte[] content, Place place, Trace.Rows rows) {
    TapeInput tape = new TapeInput(content);
    int count = Math.toIntExact(tape.unsigned());
    if (count == 0) {
      return;
    }
    long[] times = new long[count];
    long step = tape.unsigned();
    times[0] = tape.signed() * step;
    long usual = tape.signed();
    for (int i = 1; i < count; i++) {
      times[i] = times[i - 1] + (tape.signed() + usual) * step;
    }
    long mark = tape.unsigned();
    long[] masses = new long[count];
    for (int i = 0; i < count; i++) {
      masses[i] = tape.signed() * mark + (i == 0 ? 0 : masses[i - 1]);
    }
    for (int i = 0; i < count; ) {
      Stability stability = OPINIONS[Math.toIntExact(tape.unsigned())];
      int end = Math.addExact(i, Math.toIntExact(tape.unsigned()));
      for (; i < end; i++) {
        rows.add(times[i], masses[i], stability, place);
      }
    }
  }
}
