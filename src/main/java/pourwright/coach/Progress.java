package pourwright.coach;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import pourwright.compare.Alignment;
import pourwright.compare.Alignment.Link;
import pourwright.compare.MadePour;
import pourwright.compare.Routine;
import pourwright.detect.Basis;
import pourwright.detect.Disturbance;
import pourwright.detect.PourEvent;
import pourwright.plan.Schedule;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * How far a run has come, from its announced events.
 *
 * @param routine the ended pours
 * @param runningSince start of the running pour
 * @param alignment of the ended pours
 */
record Progress(
    Routine routine, Optional<SessionTime> runningSince, Alignment alignment, boolean lifted) {

  static Progress atStart(Schedule schedule) {
    Routine nothing = new Routine(schedule, List.of(), Map.of());
    return new Progress(nothing, Optional.empty(), Alignment.soFar(nothing), false);
  }

  Progress heard(PourEvent event) {
    if (event instanceof PourEvent.PourStarted started) {
      return new Progress(routine, Optional.of(started.at()), alignment, false);
    }
    if (event instanceof PourEvent.PourEnded ended && runningSince.isPresent()) {
      return ended(ended, runningSince.get());
    }
    if (event instanceof PourEvent.BedDrained drained && drained.basis() != Basis.BOUNDED) {
      return drainedAfter(drained.afterPour(), drained.at());
    }
    if (event instanceof PourEvent.Disturbed moved
        && moved.kind() == Disturbance.Kind.VESSEL_LIFTED) {
      return new Progress(routine, runningSince, alignment, false);
    }
    if (event instanceof PourEvent.DripperLifted && firstWater().isPresent()) {
      return new Progress(routine, runningSince, alignment, true);
    }
    return this;
  }

  private Progress ended(PourEvent.PourEnded ended, SessionTime start) {
    List<MadePour> made = new ArrayList<>(routine.made());
    double seconds = ended.at().secondsSince(start);
    Flow flow = seconds > 0 ? Flow.of(ended.poured(), seconds) : Flow.ZERO;
    made.add(new MadePour(ended.index(), start, ended.at(), ended.poured(), flow));
    Routine longer = new Routine(routine.schedule(), made, routine.drainedAfter());
    return new Progress(longer, Optional.empty(), Alignment.soFar(longer), lifted);
  }

  private Progress drainedAfter(int pour, SessionTime at) {
    Map<Integer, SessionTime> drained = new HashMap<>(routine.drainedAfter());
    drained.putIfAbsent(pour, at);
    return new Progress(
        new Routine(routine.schedule(), routine.made(), drained), runningSince, alignment, lifted);
  }

  /** The brewer saw the bed run dry; means nothing while water runs or before the first pour. */
  Progress markedDrained(SessionTime at) {
    return lastMade().isPresent() && runningSince.isEmpty()
        ? drainedAfter(lastMade().get().index(), at)
        : this;
  }

  Optional<MadePour> lastMade() {
    List<MadePour> made = routine.made();
    return made.isEmpty() ? Optional.empty() : Optional.of(made.get(made.size() - 1));
  }

  Optional<SessionTime> firstWater() {
    List<MadePour> made = routine.made();
    return made.isEmpty() ? runningSince : Optional.of(made.get(0).start());
  }

  Optional<SessionTime> clockZero() {
    return firstWater().map(routine.schedule()::clockZero);
  }

  private int plannedCount() {
    return routine.schedule().slots().size();
  }

  /** The planned pour after those that are decided on; beyond the last one when all are. */
  int nextPlanned() {
    return alignment.lastPlanned() + 1;
  }

  boolean isAllPoured() {
    return runningSince.isEmpty() && nextPlanned() > plannedCount();
  }

  /** The match that the last ended pour belongs to, if it is not an extra one. */
  Optional<Link> lastMatch() {
    List<Link> links = alignment.links();
    return links.isEmpty() || !links.get(links.size() - 1).isMatch()
        ? Optional.empty()
        : Optional.of(links.get(links.size() - 1));
  }

  /** When a planned pour that has not begun is due; empty before the first water. */
  Optional<SessionTime> dueOf(int planned) {
    if (routine.made().isEmpty()) {
      return clockZero().map(zero -> byClock(planned, zero));
    }
    Optional<SessionTime> previousEnd =
        lastMatch().isPresent() && planned == nextPlanned()
            ? lastMade().map(MadePour::end)
            : Optional.empty();
    return Optional.of(routine.dueAt(planned, routine.made().size(), previousEnd));
  }

  private SessionTime byClock(int planned, SessionTime zero) {
    return routine.schedule().dueAt(planned, zero, Optional.empty(), Optional.empty());
  }

  /** What the last ended pour still lacks, over all its pieces. */
  Mass lacking() {
    return lastMatch()
        .map(
            link -> {
              Mass planned = routine.schedule().slot(link.lastPlanned()).to();
              Mass before = routine.schedule().slot(link.firstPlanned()).from();
              Mass made =
                  routine.made().subList(link.firstMade() - 1, link.lastMade()).stream()
                      .map(MadePour::poured)
                      .reduce(Mass.ZERO, Mass::plus);
              return planned.minus(before).minus(made);
            })
        .orElse(Mass.ZERO);
  }

  /** The running pour and what it is meant to bring. */
  record Turn(int planned, SessionTime start, Mass target) {}

  /**
   * The running pour. It goes on with the pour before when that one lacks more than twice the mass
   * tolerance and the next one is not due soon: less than half of the pause has passed. Empty when
   * nothing runs, and for a pour after the last planned one.
   */
  Optional<Turn> turn() {
    if (runningSince.isEmpty()) {
      return Optional.empty();
    }
    SessionTime start = runningSince.get();
    Mass muchLacking =
        Mass.ofNanograms(2 * routine.schedule().plan().tolerance().mass().nanograms());
    boolean goesOn = lacking().compareTo(muchLacking) > 0 && isNearerToPourBefore(start);
    if (goesOn) {
      return Optional.of(new Turn(alignment.lastPlanned(), start, lacking()));
    }
    return nextPlanned() > plannedCount()
        ? Optional.empty()
        : Optional.of(
            new Turn(nextPlanned(), start, routine.schedule().slot(nextPlanned()).pour().add()));
  }

  private boolean isNearerToPourBefore(SessionTime start) {
    if (nextPlanned() > plannedCount()) {
      return true;
    }
    SessionTime end = lastMade().orElseThrow().end();
    double pause = dueOf(nextPlanned()).orElseThrow().secondsSince(end);
    return start.secondsSince(end) < pause / 2;
  }
}
