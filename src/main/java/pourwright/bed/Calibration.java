package pourwright.bed;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.solvers.BrentSolver;
import pourwright.units.SessionTime;
import pourwright.water.Water;

/**
 * Permeability learned from runs in which the drained moment is known, with what it cannot know.
 *
 * <p>The logarithm of the permeability falls by an even amount with every pour, plus chance: a
 * Bayesian straight line with weak priors, so one drained moment is enough for a first answer and
 * twenty give a good one.
 */
public final class Calibration implements Permeability {
  private static final double LEAST_PERMEABILITY = 1e-15;
  private static final double MOST_PERMEABILITY = 1e-7;
  private static final double SOLVER_ACCURACY = 1e-9;
  private static final int MOST_EVALUATIONS = 200;

  /** Standard deviation of the fall of ln κ per pour before any run; own choice. */
  private static final double PRIOR_FALL = 0.3;

  /** Standard deviation of ln κ about the line before any run; own choice. */
  private static final double PRIOR_CHANCE = 0.15;

  /** How many pours the prior chance counts for; own choice. */
  private static final double PRIOR_POURS = 3;

  /**
   * One pour whose drained moment fixed the permeability.
   *
   * @param pour counts from 1
   * @param squareMetres permeability (m²)
   */
  public record Sighting(int pour, double squareMetres) {}

  /**
   * A run with what is known of its drainage.
   *
   * @param water at the temperature of the slurry
   * @param drained for each pour, when it had drained, where that was measured or marked
   */
  public record Run(Water water, List<Poured> pours, List<Optional<SessionTime>> drained) {
    public Run {
      pours = List.copyOf(pours);
      drained = List.copyOf(drained);
      if (pours.size() != drained.size()) {
        throw new IllegalArgumentException(
            drained.size() + " drained moments for " + pours.size() + " pours");
      }
    }
  }

  private final List<Sighting> sightings;
  private final double level;
  private final double fall;
  private final double levelVariance;
  private final double fallVariance;
  private final double covariance;
  private final double chance;

  private Calibration(List<Sighting> sightings) {
    this.sightings = List.copyOf(sightings);
    double count = sightings.size();
    double sumX = 0;
    double sumXx = 0;
    double sumY = 0;
    double sumXy = 0;
    for (Sighting sighting : sightings) {
      double x = sighting.pour() - 1;
      double y = Math.log(sighting.squareMetres());
      sumX += x;
      sumXx += x * x;
      sumY += y;
      sumXy += x * y;
    }
    // the prior on the fall is one more observation of its own, in units of the chance
    double ridge = PRIOR_CHANCE * PRIOR_CHANCE / (PRIOR_FALL * PRIOR_FALL);
    double determinant = count * (sumXx + ridge) - sumX * sumX;
    this.level = ((sumXx + ridge) * sumY - sumX * sumXy) / determinant;
    this.fall = (count * sumXy - sumX * sumY) / determinant;
    double squares = PRIOR_POURS * PRIOR_CHANCE * PRIOR_CHANCE;
    for (Sighting sighting : sightings) {
      double off = Math.log(sighting.squareMetres()) - level - fall * (sighting.pour() - 1);
      squares += off * off;
    }
    double variance = squares / (PRIOR_POURS + Math.max(0, count - 2));
    this.chance = Math.sqrt(variance);
    this.levelVariance = variance * (sumXx + ridge) / determinant;
    this.fallVariance = variance * count / determinant;
    this.covariance = -variance * sumX / determinant;
  }

  /**
   * Learns from runs through one kind of bed.
   *
   * @return empty when no drained moment tells anything: none known, or the bed kept up with the
   *     pour
   */
  public static Optional<Calibration> of(Bed bed, List<Run> runs) {
    List<Sighting> sightings = new ArrayList<>();
    for (Run run : runs) {
      sightings.addAll(sightings(bed, run));
    }
    return sightings.isEmpty() ? Optional.empty() : Optional.of(new Calibration(sightings));
  }

  private static List<Sighting> sightings(Bed bed, Run run) {
    List<Sighting> found = new ArrayList<>();
    Drainage drainage = Drainage.empty(bed, run.water());
    for (int i = 0; i < run.pours().size(); i++) {
      Poured pour = run.pours().get(i);
      Optional<SessionTime> drained = run.drained().get(i);
      if (drained.isEmpty()) {
        // what stands when the next pour comes is not known, so later pours tell nothing
        break;
      }
      Optional<Double> open = solve(drainage, pour, drained.get());
      if (open.isEmpty()) {
        break;
      }
      found.add(new Sighting(i + 1, open.get()));
      drainage.step(pour, open.get() * (1 + SOLVER_ACCURACY), drained.get());
      drainage.settle();
    }
    return found;
  }

  private static Optional<Double> solve(Drainage drainage, Poured pour, SessionTime drained) {
    if (!drained.isAfter(pour.end())) {
      return Optional.empty();
    }
    UnivariateFunction surplus =
        logarithm -> drainage.surplusMillilitres(pour, Math.exp(logarithm), drained);
    double least = Math.log(LEAST_PERMEABILITY);
    double most = Math.log(MOST_PERMEABILITY);
    if (surplus.value(least) < 0 || surplus.value(most) > 0) {
      return Optional.empty();
    }
    return Optional.of(
        Math.exp(new BrentSolver(SOLVER_ACCURACY).solve(MOST_EVALUATIONS, surplus, least, most)));
  }

  /** What the fit rests on. */
  public List<Sighting> listSightings() {
    return sightings;
  }

  @Override
  public double squareMetres(int pour) {
    return Math.exp(level + fall * (pour - 1));
  }

  /** Change of ln κ from one pour to the next; negative when the bed closes. */
  public double logarithmPerPour() {
    return fall;
  }

  /**
   * Relative standard uncertainty of the permeability of one coming pour, and so of its drain time:
   * of the line, and of chance about it.
   *
   * @param pour counts from 1
   */
  public double relativeUncertainty(int pour) {
    double x = pour - 1;
    return Math.sqrt(levelVariance + 2 * x * covariance + x * x * fallVariance + chance * chance);
  }
}
