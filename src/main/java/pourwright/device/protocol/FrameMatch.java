package pourwright.device.protocol;

import pourwright.reading.Stability;

/** What one frame has said; used again for the next one, to stay frugal. */
final class FrameMatch {
  static final int NO_BATTERY = -1;

  final TextMatch text = new TextMatch();

  long nanograms;
  Stability stability = Stability.UNSTATED;
  boolean isOver;
  boolean isUnder;
  boolean isOther;
  int batteryPercent = NO_BATTERY;

  void clear() {
    nanograms = 0;
    stability = Stability.UNSTATED;
    isOver = false;
    isUnder = false;
    isOther = false;
    batteryPercent = NO_BATTERY;
  }
}
