package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.reading.Stability;
import pourwright.rig.Rig;

/** Where a pour comes to rest, told at the moment at which the hand begins to stop. */
class ForecastTest {

  /** A brewer with one way of stopping, on one scale: five pours. */
  private static final class Run {
    private static final int POURS = 5;

    private final Scene scene;
    private final double[] landed = new double[POURS];
    private final double[] stops = new double[POURS];
    private final double[] flows = new double[POURS];

    private Run(Scene scene) {
      this.scene = scene;
    }

    static Run of(long seed) {
      SplittableRandom random = new SplittableRandom(seed);
      double lag = random.nextDouble(0.05, 0.35);
      double usualRamp = random.nextDouble(0.1, 0.7);
      Scene scene =
          new Scene()
              .seed(seed)
              .rate(random.nextDouble(8, 40))
              .noise(random.nextDouble(0.01, 0.08))
              .lag(lag)
              .rest(5)
              .put(300)
              .rest(4);
      Run run = new Run(scene);
      for (int i = 0; i < POURS; i++) {
        double ramp = usualRamp * random.nextDouble(0.85, 1.15);
        run.flows[i] = random.nextDouble(3, 8);
        scene.pour(random.nextDouble(25, 60), run.flows[i], ramp).rest(8);
        run.landed[i] = scene.pours().get(i).grams();
        run.stops[i] = scene.pours().get(i).end() - ramp;
      }
      return run;
    }

    /**
     * By how much the forecast of each pour was off (g) and its stated uncertainty (g), made on the
     * last reading before its flow began to close; had it closed then, so much less had landed.
     */
    double[][] misses() {
      Curve curve = scene.curve();
      Detector detector = new Detector(Rig.WHOLE, DetectorSettings.standard(), event -> {});
      double[][] found = new double[stops.length][];
      int next = 0;
      for (int i = 0; i < curve.size() && next < stops.length; i++) {
        if (curve.atNanos(i) * 1e-9 > stops[next]) {
          Outlook seen = detector.outlook();
          Outlook.Landing landing = seen.landing().orElseThrow();
          double later = flows[next] * (stops[next] - seen.at().seconds());
          found[next] =
              new double[] {
                landing.inThisPour().grams() - (landed[next] - later), landing.uncertainty().grams()
              };
          next++;
        }
        detector.weigh(curve.place(), curve.atNanos(i), curve.nanograms(i), Stability.UNSTATED);
      }
      return found;
    }
  }

  @Test
  void stated_uncertainty_covers_what_lands() {
    int inOne = 0;
    int inTwo = 0;
    int all = 0;
    for (long seed = 0; seed < 40; seed++) {
      Run run = Run.of(seed);
      for (double[] miss : run.misses()) {
        inOne += Math.abs(miss[0]) < miss[1] ? 1 : 0;
        inTwo += Math.abs(miss[0]) < 2 * miss[1] ? 1 : 0;
        all++;
      }
    }
    assertThat(inOne).as("within one uncertainty, of %d", all).isGreaterThan((int) (0.6 * all));
    assertThat(inTwo).as("within two uncertainties, of %d", all).isGreaterThan((int) (0.93 * all));
  }

  @Test
  void habit_makes_later_forecasts_better() {
    double first = 0;
    double last = 0;
    for (long seed = 100; seed < 140; seed++) {
      Run run = Run.of(seed);
      double[][] misses = run.misses();
      first += Math.abs(misses[0][0]);
      last += Math.abs(misses[4][0]);
    }
    assertThat(last).isLessThan(0.95 * first);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.1, 0.3, 0.6})
  void lag_is_learned_from_a_vessel_put_down(double lag) {
    Scene scene = new Scene().lag(lag).rate(20).rest(5).put(300).rest(5);
    Curve curve = scene.curve();
    Detector detector = new Detector(Rig.WHOLE, DetectorSettings.standard(), event -> {});
    for (int i = 0; i < curve.size(); i++) {
      detector.weigh(curve.place(), curve.atNanos(i), curve.nanograms(i), Stability.UNSTATED);
    }
    // the load of this scene steps at once, a hand takes a moment, which is taken off
    assertThat(detector.outlook().lagSeconds()).isCloseTo(lag, within(0.08));
  }

  @Test
  void without_a_step_the_lag_stays_unknown() {
    assertThat(new LagEstimate().seconds()).isEqualTo(OptionalDouble.empty());
  }

  @Test
  void habit_moves_from_the_usual_to_what_is_seen() {
    StoppingHabit habit = new StoppingHabit();
    double usual = habit.seconds();
    double wide = habit.spreadSeconds();
    for (int i = 0; i < 20; i++) {
      habit.take(0.4);
    }
    assertThat(habit.seconds()).isGreaterThan(usual).isCloseTo(0.4, within(0.03));
    assertThat(habit.spreadSeconds()).isLessThan(wide);
    habit.see(new Signal(0), 0, 0, 0);
    assertThat(habit.seconds()).isCloseTo(0.4, within(0.03));
  }
}
