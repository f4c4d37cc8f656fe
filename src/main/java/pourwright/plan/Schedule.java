package pourwright.plan;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * When every pour of a plan is expected, and how much water should have landed at each moment.
 *
 * <p>Times are on the plan clock, which starts with the first water: a gap is counted from the
 * planned end of the pour before, and a pour that waits for the bed is expected at its clock time.
 * {@link #dueAt} gives the moment that really counts once earlier pours have been made.
 */
public final class Schedule {
  private final Plan plan;
  private final List<Slot> slots;

  private Schedule(Plan plan, List<Slot> slots) {
    this.plan = plan;
    this.slots = List.copyOf(slots);
  }

  /**
   * One planned pour on the plan clock.
   *
   * @param start first water
   * @param end last water, at the planned flow
   * @param from all water planned before it
   * @param to all water planned up to its end
   */
  public record Slot(PlannedPour pour, SessionTime start, SessionTime end, Mass from, Mass to) {

    /** All water that should have landed by {@code at}, while only this slot is looked at. */
    Mass massAt(SessionTime at) {
      if (!at.isAfter(start)) {
        return from;
      }
      if (!at.isBefore(end)) {
        return to;
      }
      return from.plus(pour.flow().during(at.secondsSince(start)));
    }
  }

  /** The masses between which a run is on plan at one moment. */
  public record Corridor(Mass low, Mass planned, Mass high) {}

  public static Schedule of(Plan plan) {
    return new Schedule(plan, layOut(plan.pours()));
  }

  /** One pour after the other. */
  static List<Slot> layOut(List<PlannedPour> pours) {
    List<Slot> slots = new ArrayList<>();
    SessionTime previousEnd = SessionTime.ZERO;
    Mass poured = Mass.ZERO;
    for (PlannedPour pour : pours) {
      SessionTime start = expectedStart(pour.start(), previousEnd);
      SessionTime end = start.plus(pour.length());
      Mass to = poured.plus(pour.add());
      slots.add(new Slot(pour, start, end, poured, to));
      previousEnd = end;
      poured = to;
    }
    return slots;
  }

  private static SessionTime expectedStart(Start start, SessionTime previousEnd) {
    if (start instanceof Start.AtClock clock) {
      return clock.at();
    }
    if (start instanceof Start.AfterEnd after) {
      return previousEnd.plus(after.gap());
    }
    return ((Start.WhenDrained) start).expected();
  }

  public Plan plan() {
    return plan;
  }

  /** One slot per planned pour, in order. */
  public List<Slot> slots() {
    return slots;
  }

  /** The slot of planned pour {@code index}, which counts from 1. */
  public Slot slot(int index) {
    return slots.get(index - 1);
  }

  /** Last planned water. */
  public SessionTime end() {
    return slots.isEmpty() ? SessionTime.ZERO : slots.get(slots.size() - 1).end();
  }

  /**
   * Where the plan clock stands at zero in a recording.
   *
   * @param firstWater when the first water of the run landed in the recording
   */
  public SessionTime clockZero(SessionTime firstWater) {
    Duration lead = slots.isEmpty() ? Duration.ZERO : slots.get(0).start().since(SessionTime.ZERO);
    return firstWater.plus(lead.negated());
  }

  /**
   * The moment in the recording at which a pour should start, given what has happened.
   *
   * <ul>
   *   <li>by the clock: {@code clockZero} plus the planned time;
   *   <li>after the end of the pour before: that end plus the gap; without such an end, the planned
   *       clock time;
   *   <li>when drained: the drained moment where it is known; else the expected clock time.
   * </ul>
   *
   * @param index planned pour, from 1
   * @param clockZero see {@link #clockZero}
   * @param previousEnd when the planned pour before it really ended
   * @param drained when the bed ran dry after the pour before, if measured, modelled or marked by
   *     the brewer
   */
  public SessionTime dueAt(
      int index,
      SessionTime clockZero,
      Optional<SessionTime> previousEnd,
      Optional<SessionTime> drained) {
    Slot slot = slot(index);
    SessionTime byClock = clockZero.plus(slot.start().since(SessionTime.ZERO));
    Start start = slot.pour().start();
    if (start instanceof Start.AfterEnd after) {
      return previousEnd.map(end -> end.plus(after.gap())).orElse(byClock);
    }
    return start instanceof Start.WhenDrained ? drained.orElse(byClock) : byClock;
  }

  /** All water that should have landed by {@code at} on the plan clock. */
  public Mass plannedMassAt(SessionTime at) {
    Mass mass = Mass.ZERO;
    for (Slot slot : slots) {
      if (!slot.start().isBefore(at)) {
        break;
      }
      mass = slot.massAt(at);
    }
    return mass;
  }

  /** The flow that is planned at {@code at} on the plan clock; zero between pours. */
  public Flow plannedFlowAt(SessionTime at) {
    return slots.stream()
        .filter(slot -> !at.isBefore(slot.start()) && at.isBefore(slot.end()))
        .findFirst()
        .map(slot -> slot.pour().flow())
        .orElse(Flow.ZERO);
  }

  /**
   * The band around the planned mass: as late and as light, or as early and as heavy, as the plan's
   * tolerances for start and mass allow.
   *
   * @param at on the plan clock
   */
  public Corridor corridorAt(SessionTime at) {
    Tolerance tolerance = plan.tolerance();
    Mass late = plannedMassAt(at.plus(tolerance.start().negated())).minus(tolerance.mass());
    Mass early = plannedMassAt(at.plus(tolerance.start())).plus(tolerance.mass());
    return new Corridor(late.isNegative() ? Mass.ZERO : late, plannedMassAt(at), early);
  }
}
