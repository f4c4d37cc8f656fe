package pourwright.session;

import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.device.Decoder.Decoded;
import pourwright.rig.Place;
import pourwright.roving.RovingScale;
import pourwright.roving.Sighting;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * One scale that serves all lanes in turn; owned by the thread that runs the rehearsal. Each lane
 * hears and keeps what was weighed of its own rig, and of the time between it hears nothing. Raw
 * bytes are kept with the lane under which the scale stood last.
 */
final class MovedScale {
  private static final Logger LOG = LoggerFactory.getLogger(MovedScale.class);

  /** Drips and vapour change a rig by less while the scale is elsewhere; own choice. */
  private static final Mass UNEXPLAINED = Mass.ofGrams(6);

  /** Whether the scale or the dripper was taken away is seen within this; own choice. */
  private static final Duration UNSURE = Duration.ofSeconds(5);

  private final RovingScale scale;
  private final List<RunStart.Lane> starts;
  private Optional<String> doubt = Optional.empty();

  /** Read by the thread that listens, too. */
  private volatile Stand stand;

  MovedScale(RovingScale scale, List<RunStart.Lane> starts) {
    this.scale = scale;
    this.starts = starts;
    this.stand = new Stand(scale.lane(), Place.WHOLE);
  }

  /** Where it stands, or stood last. */
  Stand stand() {
    return stand;
  }

  /** The same for whoever looks on. */
  RehearsalView.Standing standing() {
    return new RehearsalView.Standing(scale.lane(), scale.isAway());
  }

  /** What the scale said together, to the lanes it is about. */
  void hear(List<Decoded> inOrder, List<Lane> lanes, Scribe scribe) {
    for (Decoded decoded : inOrder) {
      if (decoded instanceof Decoded.Weighed weight) {
        scale.weigh(weight.reading()).forEach(seen -> take(seen, lanes, scribe));
      } else {
        if (decoded instanceof Decoded.OutOfRange beyond) {
          scale.outOfRange(beyond.at()).forEach(seen -> take(seen, lanes, scribe));
        }
        lanes.get(stand.lane() - 1).hear(Place.WHOLE, List.of(decoded), reading -> {});
      }
    }
  }

  /** The brewer says under which rig it stands. */
  void put(int lane, SessionTime at, List<Lane> lanes, Scribe scribe) {
    scale.put(lane, at).forEach(seen -> take(seen, lanes, scribe));
    doubt = Optional.empty();
  }

  private void take(Sighting seen, List<Lane> lanes, Scribe scribe) {
    if (seen instanceof Sighting.Weighed weighed) {
      Stand at = new Stand(weighed.lane(), Place.WHOLE);
      lanes
          .get(weighed.lane() - 1)
          .hear(
              Place.WHOLE,
              List.of(new Decoded.Weighed(weighed.reading())),
              reading -> scribe.reading(at, reading));
    } else if (seen instanceof Sighting.Left left) {
      LOG.info("the scale leaves {} at {}", name(left.lane()), left.at());
      lanes.get(left.lane() - 1).left(Place.WHOLE, left.at());
    } else if (seen instanceof Sighting.Stands stands) {
      LOG.info("the scale is under {} at {}: {}", name(stands.lane()), stands.at(), stands);
      stand = new Stand(stands.lane(), Place.WHOLE);
      lanes.get(stands.lane() - 1).arrived(Place.WHOLE);
      doubt = doubt(stands);
    }
  }

  private Optional<String> doubt(Sighting.Stands stands) {
    String name = name(stands.lane());
    if (!stands.isExpected()) {
      return Optional.of(
          "by its weight the scale is under " + name + ", where the timetable does not have it");
    }
    if (stands.unexplained().abs().compareTo(UNEXPLAINED) > 0) {
      return Optional.of(
          String.format(
              Locale.ROOT,
              "%s weighs %.0f g %s than when the scale left it; what was done meanwhile was not"
                  + " seen",
              name,
              Math.abs(stands.unexplained().grams()),
              stands.unexplained().isNegative() ? "less" : "more"));
    }
    return Optional.empty();
  }

  /** What the brewer should know of it now; nothing while water flows. */
  Optional<String> notice(List<Lane> lanes) {
    OptionalInt next = scale.wantedAt();
    if (!scale.isAway() && lanes.get(scale.lane() - 1).isPouring()) {
      return Optional.empty();
    }
    if (scale.isAway()) {
      return Optional.of(
          next.isPresent()
              ? "the scale is on its way to " + name(next.getAsInt())
              : "nothing stands on the scale");
    }
    return next.isPresent()
        ? Optional.of("now the scale goes under " + name(next.getAsInt()))
        : doubt;
  }

  /**
   * When nothing more will be seen of a lane: its dripper came off, or the scale left it for good.
   * Empty before that.
   */
  Optional<SessionTime> doneAt(Lane lane) {
    boolean isGone = lane.firstWater().isPresent() && !scale.comesTo(lane.number());
    return lane.lifted()
        .or(() -> isGone ? lane.leftAt().map(at -> at.plus(UNSURE)) : Optional.empty());
  }

  private String name(int lane) {
    return starts.get(lane - 1).brewer();
  }
}
