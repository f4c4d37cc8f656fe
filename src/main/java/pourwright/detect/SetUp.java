package pourwright.detect;

import java.util.List;
import java.util.Optional;
import pourwright.rig.Place;

/**
 * Tells what was put on the rig before it was tared from the first pour.
 *
 * <p>Ground coffee that trickles in looks like a small pour until the tare that follows gives it
 * away.
 *
 * @param mostDose more ground coffee than that is not used (g)
 * @param tares of the scale under everything, in order of time
 * @param placings when something was put down, in order of time
 */
record SetUp(
    Track track, double mostDose, List<PourEvent.Tared> tares, List<PourEvent.Disturbed> placings) {
  static SetUp of(DetectorSettings settings, Track track, List<PourEvent> announced) {
    return new SetUp(
        track,
        Judgement.mostDose(settings),
        announced.stream()
            .filter(PourEvent.Tared.class::isInstance)
            .map(PourEvent.Tared.class::cast)
            .filter(tare -> tare.place() == Place.WHOLE)
            .toList(),
        announced.stream()
            .filter(PourEvent.Disturbed.class::isInstance)
            .map(PourEvent.Disturbed.class::cast)
            .filter(what -> what.kind() == Disturbance.Kind.OBJECT_PLACED)
            .toList());
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
    if (next.isEmpty() || track.seconds(next.get().at()) < rise.end() || sawCoffee(rise.start())) {
      return false;
    }
    double tared = track.seconds(next.get().at());
    boolean isBrief = rise.end() - begin(rise) < Judgement.COFFEE_SECONDS;
    boolean isDose = came(rise, tared) <= mostDose;
    boolean isNext = index + 1 == rises.size() || rises.get(index + 1).start() > tared;
    if (isNext && isBrief && isDose) {
      return true;
    }
    double came = 0;
    for (Candidate each : rises.subList(index, rises.size())) {
      came += each.start() < tared ? came(each, tared) : 0;
    }
    double vessel = Judgement.DOSES_OF_A_VESSEL * mostDose;
    // what a rig weighed from the first reading on says nothing of when it was put there
    boolean isPlaced = placings.stream().anyMatch(placing -> track.seconds(placing.at()) < tared);
    return isPlaced && (isBrief || isDose) && next.get().taken().grams() > came + vessel;
  }

  /** Whether something as heavy as a dose was put down at once before {@code time}. */
  private boolean sawCoffee(double time) {
    for (PourEvent.Disturbed placing : placings) {
      double at = track.seconds(placing.at());
      double until = track.seconds(placing.until());
      double height =
          track.line(until + 0.1, until + 1).level() - track.line(at - 1, at - 0.1).level();
      if (until < time
          && height > mostDose / 5
          && height < Judgement.DOSES_OF_A_VESSEL * mostDose) {
        return true;
      }
    }
    return false;
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
