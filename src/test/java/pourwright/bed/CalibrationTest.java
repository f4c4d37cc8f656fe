package pourwright.bed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import pourwright.detect.Basis;
import pourwright.detect.Findings;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;
import pourwright.water.Water;

class CalibrationTest {
  private static final Water HOT = Water.atCelsius(90);
  private static final Bed BED = Bed.ofDose(Shape.Cone.ofDegrees(60, 0.01), Mass.ofGrams(16.5));
  private static final double OPEN = 3e-11;
  private static final double FALL = -0.12;

  private static final List<Poured> POURS =
      List.of(pour(0, 9, 50), pour(80, 92, 70), pour(200, 212, 70), pour(340, 352, 70));

  private static Poured pour(double start, double end, double grams) {
    return new Poured(
        SessionTime.ofSeconds(start), SessionTime.ofSeconds(end), Mass.ofGrams(grams));
  }

  private static Calibration.Run run(Permeability truth) {
    return new Calibration.Run(HOT, POURS, Drainage.of(BED, truth, HOT, POURS).listDrained());
  }

  @Test
  void a_known_bed_is_found_again() {
    Permeability truth = pour -> OPEN * Math.exp(FALL * (pour - 1));

    Calibration found = Calibration.of(BED, List.of(run(truth))).orElseThrow();

    assertThat(found.listSightings()).hasSize(4);
    for (Calibration.Sighting sighting : found.listSightings()) {
      double expected = truth.squareMetres(sighting.pour());
      assertThat(sighting.squareMetres()).isCloseTo(expected, within(2e-3 * expected));
    }
    assertThat(found.logarithmPerPour()).isCloseTo(FALL, within(0.02));
    assertThat(found.squareMetres(1)).isCloseTo(OPEN, within(0.03 * OPEN));
  }

  @Test
  void a_pour_that_was_dry_at_some_time_hides_no_later_ones() {
    Permeability truth = pour -> OPEN * Math.exp(FALL * (pour - 1));
    Calibration.Run whole = run(truth);
    List<Optional<SessionTime>> known = new ArrayList<>(whole.drained());
    known.set(0, Optional.empty());

    Calibration.Run dry =
        new Calibration.Run(HOT, POURS, known, List.of(true, false, false, false));
    assertThat(Calibration.of(BED, List.of(dry)).orElseThrow().listSightings())
        .extracting(Calibration.Sighting::pour)
        .containsExactly(2, 3, 4);
    assertThat(Calibration.of(BED, List.of(new Calibration.Run(HOT, POURS, known)))).isEmpty();
    Calibration found = Calibration.of(BED, List.of(dry)).orElseThrow();
    assertThat(found.squareMetres(2)).isCloseTo(truth.squareMetres(2), within(0.03 * OPEN));
    assertThat(found.relativeUncertainty(1)).isGreaterThan(0.6).isLessThan(0.8);
    assertThatThrownBy(() -> new Calibration.Run(HOT, POURS, known, List.of(true)))
        .isInstanceOf(IllegalArgumentException.class);
  }

  /** Wetting and gas: the first pour drains through a bed of its own. */
  @Test
  void the_first_pour_says_little_of_the_later_ones() {
    Permeability truth = pour -> pour == 1 ? OPEN : 3 * OPEN;
    Calibration both = Calibration.of(BED, List.of(run(truth))).orElseThrow();
    assertThat(both.squareMetres(1)).isCloseTo(OPEN, within(0.02 * OPEN));
    assertThat(both.squareMetres(2)).isCloseTo(3 * OPEN, within(0.1 * OPEN));

    Calibration.Run one =
        new Calibration.Run(HOT, POURS.subList(0, 1), run(truth).drained().subList(0, 1));
    Calibration first = Calibration.of(BED, List.of(one)).orElseThrow();
    assertThat(first.relativeUncertainty(1)).isLessThan(0.25);
    assertThat(first.relativeUncertainty(2)).isGreaterThan(0.6);
    assertThat(first.squareMetres(2)).isEqualTo(first.squareMetres(1));
  }

  @Test
  void uncertainty_says_how_often_it_is_wrong() {
    SplittableRandom random = new SplittableRandom(11);
    int inside = 0;
    int trials = 40;
    for (int trial = 0; trial < trials; trial++) {
      List<Calibration.Run> runs = new ArrayList<>();
      for (int i = 0; i < 2; i++) {
        runs.add(run(scattered(random)));
      }
      Calibration found = Calibration.of(BED, runs).orElseThrow();
      double next = scattered(random).squareMetres(3);
      if (Math.abs(Math.log(next / found.squareMetres(3))) < 2 * found.relativeUncertainty(3)) {
        inside++;
      }
    }
    // two standard uncertainties: 95 % of 40, give or take two standard deviations
    assertThat(inside).isBetween(35, 40);
  }

  private static Permeability scattered(SplittableRandom random) {
    double[] open = new double[POURS.size()];
    for (int i = 0; i < open.length; i++) {
      open[i] = OPEN * Math.exp(FALL * i + 0.15 * random.nextGaussian());
    }
    return pour -> open[pour - 1];
  }

  @Test
  void more_runs_leave_less_doubt() {
    Permeability truth = pour -> OPEN * Math.exp(FALL * (pour - 1));
    Calibration one = Calibration.of(BED, List.of(run(truth))).orElseThrow();
    Calibration four =
        Calibration.of(BED, List.of(run(truth), run(truth), run(truth), run(truth))).orElseThrow();

    assertThat(four.relativeUncertainty(2)).isLessThan(one.relativeUncertainty(2));
    assertThat(one.relativeUncertainty(8)).isGreaterThan(one.relativeUncertainty(2));
  }

  @Test
  void pours_after_an_unknown_drained_moment_tell_nothing() {
    Calibration.Run whole = run(pour -> OPEN);
    List<Optional<SessionTime>> gappy = new ArrayList<>(whole.drained());
    gappy.set(1, Optional.empty());

    Calibration found =
        Calibration.of(BED, List.of(new Calibration.Run(HOT, POURS, gappy))).orElseThrow();

    assertThat(found.listSightings()).hasSize(1);
  }

  @Test
  void nothing_known_teaches_nothing() {
    List<Optional<SessionTime>> unknown =
        List.of(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
    List<Optional<SessionTime>> atOnce =
        List.of(
            Optional.of(SessionTime.ofSeconds(9)),
            Optional.empty(),
            Optional.empty(),
            Optional.empty());

    assertThat(Calibration.of(BED, List.of(new Calibration.Run(HOT, POURS, unknown)))).isEmpty();
    assertThat(Calibration.of(BED, List.of(new Calibration.Run(HOT, POURS, atOnce)))).isEmpty();
    assertThat(Calibration.of(BED, List.of())).isEmpty();
  }

  @Test
  void a_run_has_one_drained_moment_per_pour() {
    assertThatThrownBy(() -> new Calibration.Run(HOT, POURS, List.of()))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("0 drained moments for 4 pours");
  }

  private static DrainForecast forecast() {
    Permeability truth = pour -> OPEN * Math.exp(FALL * (pour - 1));
    return new DrainForecast(BED, Calibration.of(BED, List.of(run(truth))).orElseThrow(), HOT);
  }

  @Test
  void forecast_brackets_the_drained_moment() {
    List<Optional<DrainForecast.Drained>> forecast = forecast().of(POURS);

    for (int i = 0; i < POURS.size(); i++) {
      DrainForecast.Drained drained = forecast.get(i).orElseThrow();
      double truth =
          run(pour -> OPEN * Math.exp(FALL * (pour - 1))).drained().get(i).orElseThrow().seconds();
      assertThat(drained.expected().seconds()).isCloseTo(truth, within(2.0));
      assertThat(drained.early()).isLessThan(drained.expected());
      assertThat(drained.late()).isGreaterThan(drained.expected());
    }
  }

  private static Findings findings(List<Poured> pours, List<Findings.Drawdown> drawdowns) {
    List<Findings.Pour> found = new ArrayList<>();
    for (Poured pour : pours) {
      found.add(
          new Findings.Pour(
              found.size() + 1,
              pour.start(),
              pour.end(),
              pour.mass(),
              Flow.ZERO,
              Optional.empty(),
              Optional.empty(),
              false));
    }
    return new Findings(
        Rig.WHOLE, found, drawdowns, Optional.empty(), List.of(), List.of(), List.of("kept"));
  }

  private static Findings.Drawdown drawdown(int pour, double end, Basis basis) {
    return new Findings.Drawdown(
        pour, POURS.get(pour - 1).end(), SessionTime.ofSeconds(end), basis);
  }

  @Test
  void only_bounded_drawdowns_that_end_before_their_bound_are_modelled() {
    Findings before =
        findings(
            POURS,
            List.of(
                drawdown(1, 80, Basis.BOUNDED),
                drawdown(2, 130, Basis.MEASURED),
                drawdown(3, 213, Basis.BOUNDED)));

    Findings after = forecast().applyTo(before);

    assertThat(after.drawdowns()).hasSize(3);
    assertThat(after.drawdowns().get(0).basis()).isEqualTo(Basis.MODELLED);
    assertThat(after.drawdowns().get(0).end())
        .isEqualTo(forecast().of(POURS).get(0).orElseThrow().expected());
    assertThat(after.drawdowns().subList(1, 3)).isEqualTo(before.drawdowns().subList(1, 3));
    assertThat(after.pours()).isEqualTo(before.pours());
    assertThat(after.warnings()).containsExactly("kept");
  }

  @Test
  void findings_without_a_brew_stay_as_they_are() {
    Findings none = findings(List.of(), List.of());
    Findings backwards =
        findings(List.of(POURS.get(1), POURS.get(0)), List.of(drawdown(1, 80, Basis.BOUNDED)));

    assertThat(forecast().applyTo(none)).isSameAs(none);
    assertThat(forecast().applyTo(backwards)).isSameAs(backwards);
  }
}
