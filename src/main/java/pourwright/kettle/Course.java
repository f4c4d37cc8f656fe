package pourwright.kettle;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import pourwright.units.Mass;
import pourwright.units.SessionTime;
import pourwright.water.Water;

/** Mass and temperature of the water in a kettle through a routine. */
public final class Course {
  private static final double STEP_SECONDS = 1;
  private static final double LEAST_STEP_SECONDS = 1e-6;
  private static final double ABSOLUTE = 1e-9;
  private static final double RELATIVE = 1e-9;

  /**
   * What is in the kettle.
   *
   * @param mass negative by what was wanted and not there
   * @param celsius temperature (°C)
   */
  public record Content(Mass mass, double celsius) {}

  /** What is in it at a moment. */
  public record State(SessionTime at, Content content) {}

  private final List<State> states;
  private final Mass evaporated;

  private Course(List<State> states, Mass evaporated) {
    this.states = List.copyOf(states);
    this.evaporated = evaporated;
  }

  /**
   * Runs a routine from zero.
   *
   * @param start what is in the kettle at zero
   * @param deeds in any order; those before zero or after {@code end} are left out
   * @param end when the routine is over
   */
  public static Course of(
      Kettle kettle, Room room, Content start, List<Deed> deeds, SessionTime end) {
    Run run = new Run(kettle, room, start);
    List<Deed> ordered = new ArrayList<>(deeds);
    ordered.sort(Comparator.comparing(Deed::start));
    TreeSet<SessionTime> marks = new TreeSet<>();
    marks.add(SessionTime.ZERO);
    marks.add(end);
    for (Deed deed : ordered) {
      marks.add(deed.start());
      endOf(deed).ifPresent(marks::add);
    }
    SessionTime from = SessionTime.ZERO;
    run.keep(from);
    for (SessionTime mark : marks.subSet(SessionTime.ZERO, true, end, true)) {
      run.pass(from, mark, ordered);
      from = mark;
      for (Deed deed : ordered) {
        if (deed instanceof Deed.Refill refill && refill.start().equals(mark)) {
          run.refill(refill);
        }
      }
    }
    return new Course(run.states, Mass.ofGrams(1_000 * run.evaporated));
  }

  private static Optional<SessionTime> endOf(Deed deed) {
    if (deed instanceof Deed.PourOut pour) {
      return Optional.of(pour.end());
    }
    return deed instanceof Deed.Heat heat ? Optional.of(heat.end()) : Optional.empty();
  }

  /** In order of time, about every second; two of one time where water was added. */
  public List<State> listStates() {
    return states;
  }

  /** What went off as vapour. */
  public Mass evaporated() {
    return evaporated;
  }

  /** What was in the kettle at a moment, after anything done then; at its ends, what was there. */
  public Content at(SessionTime moment) {
    State before = states.get(0);
    if (moment.isBefore(before.at())) {
      return before.content();
    }
    for (State state : states) {
      if (state.at().isAfter(moment)) {
        double span = state.at().secondsSince(before.at());
        double part = moment.secondsSince(before.at()) / span;
        return new Content(
            Mass.ofGrams(
                mix(before.content().mass().grams(), state.content().mass().grams(), part)),
            mix(before.content().celsius(), state.content().celsius(), part));
      }
      before = state;
    }
    return before.content();
  }

  private static double mix(double from, double to, double part) {
    return from + part * (to - from);
  }

  /** The running state of one course. */
  private static final class Run {
    private final Kettle kettle;
    private final Room room;
    private final List<State> states = new ArrayList<>();
    private double kilograms;
    private double celsius;
    private double evaporated;

    Run(Kettle kettle, Room room, Content start) {
      this.kettle = kettle;
      this.room = room;
      this.kilograms = start.mass().grams() / 1_000;
      this.celsius = start.celsius();
    }

    void keep(SessionTime at) {
      states.add(new State(at, new Content(Mass.ofGrams(1_000 * kilograms), celsius)));
    }

    void refill(Deed.Refill refill) {
      double added = refill.mass().grams() / 1_000;
      double heat =
          kettle.joulesPerKelvin(kilograms) * celsius
              + added * Kettle.JOULES_PER_KILOGRAM_KELVIN * refill.celsius();
      kilograms += added;
      celsius =
          heat
              / (kettle.joulesPerKelvin(kilograms - added)
                  + added * Kettle.JOULES_PER_KILOGRAM_KELVIN);
      keep(refill.start());
    }

    /** From one mark to the next nothing begins or ends. */
    void pass(SessionTime from, SessionTime until, List<Deed> deeds) {
      double outflow = 0;
      Optional<Double> hold = Optional.empty();
      for (Deed deed : deeds) {
        boolean isOn = !deed.start().isAfter(from);
        if (isOn && deed instanceof Deed.PourOut pour && pour.end().isAfter(from)) {
          outflow += pour.mass().grams() / 1_000 / pour.end().secondsSince(pour.start());
        }
        if (isOn && deed instanceof Deed.Heat heat && heat.end().isAfter(from)) {
          hold = Optional.of(heat.holdCelsius());
        }
      }
      for (double t = from.seconds(); t < until.seconds(); t += STEP_SECONDS) {
        double to = Math.min(until.seconds(), t + STEP_SECONDS);
        if (to - t > LEAST_STEP_SECONDS) {
          step(to - t, outflow, hold);
          keep(SessionTime.ofSeconds(to));
        }
      }
    }

    private void step(double seconds, double outflow, Optional<Double> hold) {
      // a base below its mark heats with all it has, at its mark with just what is lost
      boolean isHeating = hold.isPresent() && celsius < hold.get();
      double[] after = integrate(seconds, outflow, isHeating ? kettle.heaterWatts() : 0);
      if (hold.isPresent() && kettle.heaterWatts() > 0) {
        double mark = hold.get();
        boolean reaches = isHeating && after[1] >= mark;
        boolean wouldFall = !isHeating && celsius == mark && after[1] < mark;
        if (reaches || wouldFall) {
          after[1] = mark;
        }
      }
      kilograms = after[0];
      celsius = after[1];
      evaporated = after[2];
    }

    private double[] integrate(double seconds, double outflow, double watts) {
      OrdinaryDifferentialEquation equation =
          new OrdinaryDifferentialEquation() {
            @Override
            public int getDimension() {
              return 3;
            }

            @Override
            public double[] computeDerivatives(double t, double[] state) {
              boolean isEmpty = state[0] <= 0;
              double vapour = isEmpty ? 0 : kettle.evaporation(state[1], room);
              double latent =
                  vapour * Water.atCelsius(Math.min(100, state[1])).latentJoulesPerKilogram();
              double heat = watts - kettle.convectionWatts(state[1], room) - latent;
              double capacity = kettle.joulesPerKelvin(state[0]);
              return new double[] {-outflow - vapour, capacity > 0 ? heat / capacity : 0, vapour};
            }
          };
      return new DormandPrince853Integrator(LEAST_STEP_SECONDS / 10, seconds, ABSOLUTE, RELATIVE)
          .integrate(
              equation, new ODEState(0, new double[] {kilograms, celsius, evaporated}), seconds)
          .getPrimaryState();
    }
  }
}
