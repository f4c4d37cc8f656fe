package pourwright.detect;

import java.util.Optional;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Finds pours while they happen: readings in, {@link PourEvent}s out, with nothing but what has
 * arrived so far.
 *
 * <p>Costs the same for every reading, keeps no more than the last seconds, and allocates nothing
 * as long as nothing happens. For one thread.
 */
public final class Detector {
  private final Rig rig;
  private final @Nullable Watch whole;
  private final @Nullable Watch server;
  private SessionTime newest = SessionTime.ZERO;

  /**
   * A detector that has seen nothing yet.
   *
   * @param announce called on the detector's thread, in the order in which events became known
   */
  public Detector(Rig rig, DetectorSettings settings, Consumer<PourEvent> announce) {
    this.rig = rig;
    this.whole =
        rig.places().contains(Place.WHOLE)
            ? new Watch(Place.WHOLE, settings, announce, null)
            : null;
    this.server =
        rig.places().contains(Place.SERVER)
            ? new Watch(
                Place.SERVER,
                settings,
                rig == Rig.SPLIT ? event -> besides(event, announce) : announce,
                rig == Rig.SPLIT ? null : new Surges(announce))
            : null;
  }

  /** Of a server beside the scale under everything, the end of the outflow is what counts. */
  private void besides(PourEvent event, Consumer<PourEvent> announce) {
    int pours = whole == null ? 0 : whole.phase().ledger().pours();
    if (event instanceof PourEvent.PourEnded ended && pours > 0) {
      announce.accept(new PourEvent.BedDrained(pours, ended.at(), ended.knownAt(), Basis.MEASURED));
    } else if (event instanceof PourEvent.Tared || event instanceof PourEvent.ReadingsMissed) {
      announce.accept(event);
    }
  }

  public Rig rig() {
    return rig;
  }

  /**
   * Takes one reading.
   *
   * @param atNanos when it arrived (ns of the session), never before the reading before it
   * @param nanograms displayed mass (ng)
   * @param stability what the scale says of it; the detector trusts its own eyes
   */
  public void weigh(Place place, long atNanos, long nanograms, Stability stability) {
    Watch watch = watch(place);
    watch.weigh(atNanos, nanograms);
  }

  public void weigh(Place place, Reading reading) {
    weigh(place, reading.at().nanos(), reading.mass().nanograms(), reading.stability());
  }

  /** Nothing has arrived for a while; a gap is never taken for rest. */
  public void silence(Place place, SessionTime at) {
    watch(place).silence();
  }

  /** The scale is gone. */
  public void lost(Place place, SessionTime at) {
    watch(place).lost();
  }

  /** The scale is back; readings follow. */
  public void restored(Place place, SessionTime at) {
    watch(place).lost();
  }

  /** No more readings will come. What is not certain by now is left to hindsight. */
  public void finish(SessionTime at) {
    newest = at;
  }

  private Watch watch(Place place) {
    Watch watch = place == Place.WHOLE ? whole : server;
    if (watch == null) {
      throw new IllegalArgumentException("no scale weighs " + place + " on rig " + rig);
    }
    return watch;
  }

  /** What is seen now. */
  public Outlook outlook() {
    Watch watch = whole != null ? whole : server;
    Evidence e = watch == null ? null : watch.evidence();
    if (watch == null || e == null || watch.signal().size() == 0) {
      return new Outlook(
          newest,
          Outlook.Doing.SETTLING,
          0,
          Mass.ZERO,
          Mass.ZERO,
          Flow.ZERO,
          Optional.empty(),
          0,
          Mass.ZERO,
          0);
    }
    return Forecast.of(watch, e);
  }
}
