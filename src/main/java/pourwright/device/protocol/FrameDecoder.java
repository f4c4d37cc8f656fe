package pourwright.device.protocol;

import java.util.OptionalInt;
import org.jspecify.annotations.Nullable;

/**
 * Reads frames of fixed length. Where a frame is wrong the search begins again at its second byte,
 * so that a good frame inside or behind it is found.
 *
 * <p>A frame without a check of its own counts, after anything that was no frame, only once the
 * header of the next one follows it.
 */
final class FrameDecoder extends StreamDecoder {
  /** Bytes of one piece of junk at most; with one frame it bounds the waiting tail. */
  static final int LONGEST_JUNK = 64;

  private static final String NO_FRAME = "no frame begins here";

  private final FixedFrame frame;
  private final FrameMatch match = new FrameMatch();

  /** Unread bytes known to be no frame. */
  private int skipped;

  private @Nullable String fault;

  /** The last frame ended where the next should begin. */
  private boolean isInStep;

  private int toldBattery = FrameMatch.NO_BATTERY;

  FrameDecoder(FixedFrame frame, boolean isMessageWise) {
    super(isMessageWise);
    this.frame = frame;
  }

  @Override
  void scan() {
    while (skipped < waiting()) {
      int at = start + skipped;
      int there = end - at;
      if (!beginsAt(at, there)) {
        skip(NO_FRAME);
        continue;
      }
      boolean needsNext = !isInStep && !frame.isSelfProving();
      if (there < frame.length() + (needsNext ? frame.header().size() : 0)) {
        return;
      }
      String wrong =
          needsNext && !beginsAt(at + frame.length(), frame.header().size())
              ? "not followed by another frame"
              : frame.read(buffer, at, match);
      if (wrong == null) {
        flush();
        emit();
      } else {
        skip(wrong);
      }
    }
  }

  @Override
  void forget() {
    skipped = 0;
    fault = null;
    isInStep = false;
    toldBattery = FrameMatch.NO_BATTERY;
  }

  @Override
  void beginMessage() {
    isInStep = true;
  }

  @Override
  void endMessage() {
    if (waiting() > skipped) {
      fault = fault == null ? "the message is too short" : fault;
      skipped = waiting();
    }
    flush();
  }

  private boolean beginsAt(int at, int there) {
    int length = Math.min(there, frame.header().size());
    for (int i = 0; i < length; i++) {
      if (buffer[at + i] != frame.header().at(i)) {
        return false;
      }
    }
    return true;
  }

  private void skip(String why) {
    isInStep = false;
    skipped++;
    if (fault == null || fault.equals(NO_FRAME)) {
      fault = why;
    }
    if (skipped >= LONGEST_JUNK) {
      flush();
    }
  }

  private void flush() {
    if (skipped > 0) {
      junk(skipped, fault == null ? NO_FRAME : fault);
      skipped = 0;
      fault = null;
    }
  }

  private void emit() {
    isInStep = true;
    int battery = match.batteryPercent;
    boolean isNews = battery != FrameMatch.NO_BATTERY && battery != toldBattery;
    Decoded.Told told =
        new Decoded.Told(now(), isNews ? OptionalInt.of(battery) : OptionalInt.empty());
    if (match.isOther) {
      told(frame.length(), told);
    } else if (match.isOver || match.isUnder) {
      outOfRange(frame.length(), match.isOver);
    } else {
      weighed(frame.length(), match.nanograms, match.stability);
    }
    if (isNews) {
      toldBattery = battery;
      if (!match.isOther) {
        alsoTold(told);
      }
    }
    if (frame.header().size() == 0) {
      // Without a header only the message's first bytes are known to be a frame.
      passOver(waiting());
    }
  }
}
