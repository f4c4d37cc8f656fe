package pourwright.bed;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.solvers.BrentSolver;
import pourwright.units.SessionTime;
import pourwright.water.Water;

/**
 * Permeability learned from runs in which the drained moment is known, with what it cannot know.
 *
 * <p>The first pour wets the grounds and drives gas out of them, so it drains through a bed of its
 * own. After it the logarithm of the permeability falls by an even amount with every pour. Both
 * have chance on top: a Bayesian mean and straight line with weak priors, so one drained moment is
 * enough for a first answer and twenty give a good one.
 */
public final class Calibration implements Permeability {
  private static final double LEAST_PERMEABILITY = 1e-15;
  private static final double MOST_PERMEABILITY = 1e-7;
  private static final double SOLVER_ACCURACY = 1e-9;
  private static final int MOST_EVALUATIONS = 200;

  /** Standard deviation of the fall of ln κ per pour before any run; own choice. */
  private static final double PRIOR_FALL = 0.3;

  /** Standard deviation of ln κ between the first pour and the later ones; own choice. */
  private static final double PRIOR_WETTING = 0.6;

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
   * @param wasDry for each pour, whether its water is known to have gone before the next one came,
   *     though not when; what is drained was dry
   */
  public record Run(
      Water water, List<Poured> pours, List<Optional<SessionTime>> drained, List<Boolean> wasDry) {
    public Run {
      pours = List.copyOf(pours);
      drained = List.copyOf(drained);
      wasDry = List.copyOf(wasDry);
      if (pours.size() != drained.size() || pours.size() != wasDry.size()) {
        throw new IllegalArgumentException(
            drained.size() + " drained moments for " + pours.size() + " pours");
      }
    }

    /** A run of which nothing is known but drained moments. */
    public Run(Water water, List<Poured> pours, List<Optional<SessionTime>> drained) {
      this(water, pours, drained, Collections.nCopies(pours.size(), false));
    }
  }

  private final List<Sighting> sightings;

  /** ln κ of the first pour, and its variance. */
  private final double first;

  private final double firstVariance;

  /** ln κ of the second pour, its change to the next, and their variances. */
  private final double level;

  private final double fall;
  private final double levelVariance;
  private final double fallVariance;
  private final double covariance;
  private final double chance;

  private Calibration(List<Sighting> sightings) {
    this.sightings = List.copyOf(sightings);
    double firsts = 0;
    double sumFirst = 0;
    double count = 0;
    double sumX = 0;
    double sumXx = 0;
    double sumY = 0;
    double sumXy = 0;
    for (Sighting sighting : sightings) {
      double y = Math.log(sighting.squareMetres());
      if (sighting.pour() == 1) {
        firsts++;
        sumFirst += y;
        continue;
      }
      double x = sighting.pour() - 2;
      count++;
      sumX += x;
      sumXx += x * x;
      sumY += y;
      sumXy += x * y;
    }
    // the prior on the fall is one more observation of its own, in units of the chance
    double ridge = PRIOR_CHANCE * PRIOR_CHANCE / (PRIOR_FALL * PRIOR_FALL);
    double determinant = count * (sumXx + ridge) - sumX * sumX;
    boolean isLine = count > 0;
    this.level = isLine ? ((sumXx + ridge) * sumY - sumX * sumXy) / determinant : sumFirst / firsts;
    this.fall = isLine ? (count * sumXy - sumX * sumY) / determinant : 0;
    this.first = firsts > 0 ? sumFirst / firsts : level - fall;
    double squares = PRIOR_POURS * PRIOR_CHANCE * PRIOR_CHANCE;
    for (Sighting sighting : sightings) {
      double off = Math.log(sighting.squareMetres()) - logarithm(sighting.pour());
      squares += off * off;
    }
    double variance = squares / (PRIOR_POURS + Math.max(0, count - 2) + Math.max(0, firsts - 1));
    this.chance = Math.sqrt(variance);
    double wetting = PRIOR_WETTING * PRIOR_WETTING;
    this.levelVariance =
        isLine ? variance * (sumXx + ridge) / determinant : variance / firsts + wetting;
    this.fallVariance = isLine ? variance * count / determinant : PRIOR_FALL * PRIOR_FALL;
    this.covariance = isLine ? -variance * sumX / determinant : 0;
    this.firstVariance = firsts > 0 ? variance / firsts : lineVariance(-1) + wetting;
  }

  private double logarithm(int pour) {
    return pour == 1 ? first : level + fall * (pour - 2);
  }

  private double lineVariance(double x) {
    return levelVariance + 2 * x * covariance + x * x * fallVariance;
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
      Optional<Double> open = drained.flatMap(at -> solve(drainage, pour, at));
      if (open.isPresent()) {
        found.add(new Sighting(i + 1, open.get()));
        drainage.step(pour, open.get() * (1 + SOLVER_ACCURACY), drained.get());
      } else if (run.wasDry().get(i)) {
        drainage.step(pour, MOST_PERMEABILITY, pour.end());
      } else {
        // what stands when the next pour comes is not known, so later pours tell nothing
        break;
      }
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
    return Math.exp(logarithm(pour));
  }

  /** Change of ln κ from one later pour to the next; negative when the bed closes. */
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
    double known = pour == 1 ? firstVariance : lineVariance(pour - 2);
    return Math.sqrt(known + chance * chance);
  }
}
