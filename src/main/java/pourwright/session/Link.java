package pourwright.session;

import java.util.ArrayDeque;
import java.util.Optional;
import java.util.OptionalInt;
import org.jspecify.annotations.Nullable;
import pourwright.detect.Curve;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.session.LinkView.Loss;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** What is known of one scale during a run; owned by the thread that runs the rehearsal. */
final class Link {
  /** Span over which the rate is counted (s); own choice. */
  private static final double RATE_SECONDS = 3;

  /**
   * A display this near to zero is a tared one: evaporation and drift since the key was pressed,
   * own choice.
   */
  private static final Mass TARED_WITHIN = Mass.ofMilligrams(1_500);

  private final PlacedScale placed;
  private final Curve curve;
  private final ArrayDeque<SessionTime> recent = new ArrayDeque<>();
  private @Nullable Reading newest;
  private boolean isOutOfRange;
  private int losses;
  private long junk;
  private OptionalInt batteryPercent = OptionalInt.empty();
  private Optional<Loss> loss = Optional.empty();
  private boolean isAway;

  Link(PlacedScale placed) {
    this.placed = placed;
    this.curve = new Curve(placed.stand().place());
  }

  Stand stand() {
    return placed.stand();
  }

  /** Everything weighed so far. */
  Curve curve() {
    return curve;
  }

  void weighed(Reading reading) {
    curve.add(reading.at().nanos(), reading.mass().nanograms());
    newest = reading;
    isOutOfRange = false;
    recent.addLast(reading.at());
  }

  void outOfRange() {
    isOutOfRange = true;
  }

  void junk() {
    junk++;
  }

  void battery(OptionalInt percent) {
    batteryPercent = percent.isPresent() ? percent : batteryPercent;
  }

  void lost(SessionTime at, String why) {
    losses++;
    loss = Optional.of(new Loss(at, why));
  }

  void restored() {
    loss = Optional.empty();
  }

  /** The scale is under another rig, or comes back to this one. */
  void away(boolean is) {
    isAway = is;
  }

  boolean isLost() {
    return loss.isPresent();
  }

  boolean isHeard() {
    return newest != null;
  }

  boolean showsAboutZero() {
    return newest != null && newest.mass().abs().compareTo(TARED_WITHIN) <= 0;
  }

  LinkView view(SessionTime now) {
    Reading last = newest;
    return new LinkView(
        placed.stand(),
        placed.address(),
        placed.profile(),
        isHeard(),
        Optional.ofNullable(last).map(Reading::mass),
        last == null ? Stability.UNSTATED : last.stability(),
        isOutOfRange,
        loss.isPresent() ? 0 : readingsPerSecond(now),
        losses,
        junk,
        batteryPercent,
        loss,
        isAway);
  }

  private double readingsPerSecond(SessionTime now) {
    while (!recent.isEmpty() && now.secondsSince(recent.getFirst()) > RATE_SECONDS) {
      recent.removeFirst();
    }
    if (recent.isEmpty()) {
      return 0;
    }
    double span = Math.max(now.secondsSince(recent.getFirst()), recent.size() / 1_000.0);
    return recent.size() / span;
  }
}
