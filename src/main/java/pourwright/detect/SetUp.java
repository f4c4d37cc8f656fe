package pourwright.detect;

import java.util.List;
import java.util.Optional;
import pourwright.rig.Place;
import pourwright.units.SessionTime;

/**
 * Tells what was put on the rig before it was tared from the first pour.
 *
 * <p>Ground coffee that trickles in looks like a small pour until the tare that follows gives it
 * away.
 *
 * @param dose how much ground coffee there may be
 * @param tares of the scale under everything, in order of time
 * @param placings when something was put down, in order of time
 * @param isAnew whether what was poured before was thrown away, so that coffee has yet to come
 */
record SetUp(
    Track track,
    Ledger.Dose dose,
    List<PourEvent.Tared> tares,
    List<PourEvent.Disturbed> placings,
    boolean isAnew) {
  static SetUp of(DetectorSettings settings, Track track, List<PourEvent> announced) {
    return new SetUp(
        track,
        Judgement.dose(settings),
        announced.stream()
            .filter(PourEvent.Tared.class::isInstance)
            .map(PourEvent.Tared.class::cast)
            .filter(tare -> tare.place() == Place.WHOLE)
            .toList(),
        announced.stream()
            .filter(PourEvent.Disturbed.class::isInstance)
            .map(PourEvent.Disturbed.class::cast)
            .filter(what -> what.kind() == Disturbance.Kind.OBJECT_PLACED)
            .toList(),
        announced.stream()
            .filter(PourEvent.Discarded.class::isInstance)
            .anyMatch(discarded -> wasPutBackAt(announced, discarded.knownAt())));
  }

  private static boolean wasPutBackAt(List<PourEvent> announced, SessionTime known) {
    return announced.stream()
        .anyMatch(
            event ->
                event instanceof PourEvent.Disturbed moved
                    && moved.kind() == Disturbance.Kind.VESSEL_LIFTED
                    && moved.knownAt().equals(known));
  }

  /** The rises from the first one that was poured on. */
  List<Candidate> pouredAfter(List<Candidate> rises) {
    int first = 0;
    while (first < rises.size() && isBefore(rises, first)) {
      first++;
    }
    return rises.subList(first, rises.size());
  }

  private boolean isBefore(List<Candidate> rises, int index) {
    Candidate rise = rises.get(index);
    Optional<PourEvent.Tared> next =
        tares.stream().filter(tare -> track.seconds(tare.at()) > rise.start()).findFirst();
    if (sawCoffee(rise.start())) {
      return false;
    }
    if (next.isEmpty()) {
      return isFirstAndCoffee(rises, index);
    }
    double tared = track.seconds(next.get().at());
    if (tared < rise.end()) {
      return false;
    }
    boolean isBrief = rise.end() - begin(rise) < Judgement.COFFEE_SECONDS;
    boolean isDose = came(rise, tared) <= dose.most();
    boolean isNext = index + 1 == rises.size() || rises.get(index + 1).start() > tared;
    if (isNext && isBrief && isDose) {
      return true;
    }
    double came = 0;
    for (Candidate each : rises.subList(index, rises.size())) {
      came += each.start() < tared ? came(each, tared) : 0;
    }
    // what a rig weighed from the first reading on says nothing of when it was put there
    boolean isPlaced = placings.stream().anyMatch(placing -> track.seconds(placing.at()) < tared);
    return isPlaced && (isBrief || isDose) && next.get().taken().grams() > came + dose.vessel();
  }

  /** On a rig that was put together before our eyes, the first that comes so soon is coffee. */
  private boolean isFirstAndCoffee(List<Candidate> rises, int index) {
    Candidate rise = rises.get(index);
    double until =
        index + 1 < rises.size() ? rises.get(index + 1).start() : Double.POSITIVE_INFINITY;
    // what still came when the recording ended was more than is known
    boolean hasEnded = Math.min(until, track.last()) - rise.end() > Judgement.HOLD_SECONDS;
    return index == 0
        && hasEnded
        && (isAnew || wasPlaced(rise.start(), dose.vessel()))
        && rise.end() - begin(rise) < Judgement.COFFEE_SECONDS
        && came(rise, until) <= dose.most();
  }

  /** Whether something at least that heavy was put down before {@code time}. */
  private boolean wasPlaced(double time, double least) {
    return placings.stream()
        .anyMatch(placing -> track.seconds(placing.until()) < time && height(placing) > least);
  }

  private double height(PourEvent.Disturbed placing) {
    double at = track.seconds(placing.at());
    double until = track.seconds(placing.until());
    return track.line(until + 0.1, until + 1).level() - track.line(at - 1, at - 0.1).level();
  }

  /** Whether something as heavy as a dose was put down at once before {@code time}. */
  private boolean sawCoffee(double time) {
    return placings.stream()
        .filter(placing -> track.seconds(placing.until()) < time)
        .mapToDouble(this::height)
        .anyMatch(grams -> grams > dose.most() / 5 && grams < dose.vessel());
  }

  /** Where the rise begins that no vessel made (s). */
  private double begin(Candidate rise) {
    double begin = rise.start();
    for (PourEvent.Disturbed placing : placings) {
      double until = track.seconds(placing.until());
      if (track.seconds(placing.at()) < begin + 1 && until > begin) {
        begin = Math.min(until, rise.end());
      }
    }
    return begin;
  }

  /** By how much the weight rose, seen before the tare (g). */
  private double came(Candidate rise, double tared) {
    double end = Math.min(rise.end() + 0.4, tared - 0.5);
    Track.Line before = track.line(begin(rise) - 0.8, begin(rise) - 0.1);
    Track.Line after = track.line(end, Math.min(end + 0.8, tared - 0.2));
    return before.readings() == 0 || after.readings() == 0 ? 0 : after.level() - before.level();
  }
}
