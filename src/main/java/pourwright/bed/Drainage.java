package pourwright.bed;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.solvers.BracketedUnivariateSolver;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.ODEStateAndDerivative;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.events.Action;
import org.hipparchus.ode.events.AdaptableInterval;
import org.hipparchus.ode.events.ODEEventDetector;
import org.hipparchus.ode.events.ODEEventHandler;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import pourwright.units.Mass;
import pourwright.units.SessionTime;
import pourwright.water.Water;

/**
 * A brew run through the bed model: pours in, drained moments and levels out.
 *
 * <p>The first water that passes is kept by the grounds until they hold what they keep; what passes
 * after that drops into the server. A bed is drained when no water stands above it.
 */
public final class Drainage {
  /** Longest that is waited for the last pour to drain (s). */
  private static final double PATIENCE_SECONDS = 900;

  private static final double LEVEL_SECONDS = 0.5;
  private static final double LEAST_STEP_SECONDS = 1e-9;
  private static final double MOST_STEP_SECONDS = 5;
  private static final double ABSOLUTE_MILLILITRES = 1e-8;
  private static final double RELATIVE = 1e-9;

  /**
   * What stands where at a moment.
   *
   * @param standing water above the bed
   * @param slurryMetres its depth (m)
   * @param served water in the server
   */
  public record Level(SessionTime at, Mass standing, double slurryMetres, Mass served) {}

  private final Bed bed;
  private final Water water;
  private final List<Optional<SessionTime>> drained = new ArrayList<>();
  private final List<Level> levels = new ArrayList<>();

  /** Water above the bed (mL). */
  private double standing;

  /** Water that has gone into the bed from above (mL). */
  private double passed;

  private Drainage(Bed bed, Water water) {
    this.bed = bed;
    this.water = water;
  }

  /**
   * Runs a brew.
   *
   * @param water at the temperature of the slurry, which is some degrees below the kettle
   * @param pours in order, none before the end of the one before
   */
  public static Drainage of(Bed bed, Permeability permeability, Water water, List<Poured> pours) {
    Drainage drainage = new Drainage(bed, water);
    for (int i = 0; i < pours.size(); i++) {
      Poured pour = pours.get(i);
      if (i == 0) {
        drainage.keepLevel(pour.start().seconds());
      }
      SessionTime next =
          i + 1 < pours.size()
              ? pours.get(i + 1).start()
              : pour.end().plusSeconds(PATIENCE_SECONDS);
      drainage.step(pour, permeability.squareMetres(i + 1), next);
    }
    return drainage;
  }

  /** When each pour had drained; empty where the next one came first. */
  public List<Optional<SessionTime>> listDrained() {
    return List.copyOf(drained);
  }

  /** The course of the brew, every half second until it has drained. */
  public List<Level> listLevels() {
    return List.copyOf(levels);
  }

  /**
   * Water left above the bed at a moment after a pour if it fell on below the bed's surface (mL):
   * smooth and falling in the permeability, so a drained moment can be solved for.
   */
  double surplusMillilitres(Poured pour, double open, SessionTime at) {
    double inflow = water.millilitres(pour.mass()) / pour.seconds();
    double[] state = {standing, passed};
    state = integrate(pour.start().seconds(), pour.end().seconds(), state, inflow, open, true);
    return integrate(pour.end().seconds(), at.seconds(), state, 0, open, false)[0];
  }

  /** The same bed with nothing poured yet, to step through a brew pour by pour. */
  public static Drainage empty(Bed bed, Water water) {
    return new Drainage(bed, water);
  }

  /**
   * Takes one more pour and lets it drain until it is dry, at most until {@code next}.
   *
   * @param pour not before the end of the one before
   * @param open permeability while it drains (m²)
   */
  public void step(Poured pour, double open, SessionTime next) {
    double inflow = water.millilitres(pour.mass()) / pour.seconds();
    pour(pour.start().seconds(), pour.end().seconds(), inflow, open);
    drain(pour.end().seconds(), Math.max(pour.end().seconds(), next.seconds()), open);
  }

  /** The drained moment is known: whatever rounding left standing has gone. */
  void settle() {
    passed += standing;
    standing = 0;
  }

  private void pour(double from, double until, double inflow, double open) {
    for (double t = from; t < until; t += LEVEL_SECONDS) {
      double to = Math.min(until, t + LEVEL_SECONDS);
      if (to - t <= LEAST_STEP_SECONDS) {
        break; // what rounding left of the last step
      }
      double[] state = integrate(t, to, new double[] {standing, passed}, inflow, open, true);
      standing = state[0];
      passed = state[1];
      keepLevel(to);
    }
  }

  private void drain(double from, double until, double open) {
    if (standing <= 0) {
      drained.add(Optional.of(SessionTime.ofSeconds(from)));
      return;
    }
    for (double t = from; t < until; t += LEVEL_SECONDS) {
      double to = Math.min(until, t + LEVEL_SECONDS);
      if (to - t <= LEAST_STEP_SECONDS) {
        break; // what rounding left of the last step
      }
      Dry dry = new Dry();
      DormandPrince853Integrator integrator = integrator();
      integrator.addEventDetector(dry);
      ODEStateAndDerivative reached =
          integrator.integrate(
              equation(0, open, false), new ODEState(t, new double[] {standing, passed}), to);
      standing = reached.getPrimaryState()[0];
      passed = reached.getPrimaryState()[1];
      if (dry.happened) {
        passed += standing;
        standing = 0;
        keepLevel(reached.getTime());
        drained.add(Optional.of(SessionTime.ofSeconds(reached.getTime())));
        return;
      }
      keepLevel(to);
    }
    drained.add(Optional.empty());
  }

  private void keepLevel(double seconds) {
    double served = Math.max(0, passed - water.millilitres(bed.keeps()));
    levels.add(
        new Level(
            SessionTime.ofSeconds(seconds),
            water.mass(standing),
            bed.slurryMetres(standing),
            water.mass(served)));
  }

  private double[] integrate(
      double from, double until, double[] state, double inflow, double open, boolean stops) {
    if (!(until > from)) {
      return state;
    }
    return integrator()
        .integrate(equation(inflow, open, stops), new ODEState(from, state), until)
        .getPrimaryState();
  }

  private static DormandPrince853Integrator integrator() {
    return new DormandPrince853Integrator(
        LEAST_STEP_SECONDS, MOST_STEP_SECONDS, ABSOLUTE_MILLILITRES, RELATIVE);
  }

  private OrdinaryDifferentialEquation equation(double inflow, double open, boolean stopsAtBed) {
    return new OrdinaryDifferentialEquation() {
      @Override
      public int getDimension() {
        return 2;
      }

      @Override
      public double[] computeDerivatives(double t, double[] state) {
        double out = bed.outflow(state[0], open, water);
        if (stopsAtBed && state[0] <= 0 && inflow < out) {
          return new double[] {0, inflow}; // the bed takes all that comes, nothing stands
        }
        return new double[] {inflow - out, out};
      }
    };
  }

  /** The surface reaches the bed. */
  private static final class Dry implements ODEEventDetector {
    private static final double CHECK_SECONDS = 0.1;
    private static final double TIME_SECONDS = 1e-9;
    private static final int MOST_ITERATIONS = 100;
    private static final int SOLVER_ORDER = 5;

    private boolean happened;

    @Override
    public AdaptableInterval getMaxCheckInterval() {
      return (state, isForward) -> CHECK_SECONDS;
    }

    @Override
    public int getMaxIterationCount() {
      return MOST_ITERATIONS;
    }

    @Override
    public BracketedUnivariateSolver<UnivariateFunction> getSolver() {
      return new BracketingNthOrderBrentSolver(0, TIME_SECONDS, 0, SOLVER_ORDER);
    }

    @Override
    public ODEEventHandler getHandler() {
      return (state, detector, isIncreasing) -> {
        happened = true;
        return Action.STOP;
      };
    }

    @Override
    public double g(ODEStateAndDerivative state) {
      return state.getPrimaryState()[0];
    }
  }
}
