package pourwright.compare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static pourwright.compare.Runs.at;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import pourwright.detect.Curve;
import pourwright.detect.Findings;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class PouredCurveTest {
  private static final PouredCurve STEPS =
      PouredCurve.of(new long[] {10, 20, 20, 40}, new long[] {0, 100, 200, 300});

  @Test
  void is_straight_between_samples_and_level_outside() {
    assertThat(STEPS.massAt(SessionTime.ofNanos(0))).isEqualTo(Mass.ZERO);
    assertThat(STEPS.massAt(SessionTime.ofNanos(15))).isEqualTo(new Mass(50));
    assertThat(STEPS.massAt(SessionTime.ofNanos(20))).isEqualTo(new Mass(100));
    assertThat(STEPS.massAt(SessionTime.ofNanos(30))).isEqualTo(new Mass(250));
    assertThat(STEPS.massAt(SessionTime.ofNanos(99))).isEqualTo(new Mass(300));
  }

  @Test
  void curves_of_the_same_samples_are_equal() {
    PouredCurve same = PouredCurve.of(new long[] {10, 20, 20, 40}, new long[] {0, 100, 200, 300});
    assertThat(same)
        .isEqualTo(STEPS)
        .hasSameHashCodeAs(STEPS)
        .hasToString("poured curve of 4 samples");
    assertThat(STEPS)
        .isNotEqualTo(PouredCurve.of(new long[] {10, 20, 20, 41}, new long[] {0, 100, 200, 300}))
        .isNotEqualTo(PouredCurve.of(new long[] {10, 20, 20, 40}, new long[] {0, 100, 200, 301}))
        .isNotEqualTo("poured curve of 4 samples");
    assertThat(STEPS.hashCode()).isNotEqualTo(PouredCurve.NONE.hashCode());
  }

  @Test
  void what_is_no_curve_is_refused() {
    assertThatThrownBy(() -> PouredCurve.of(new long[1], new long[2]))
        .hasMessage("1 times do not fit 2 masses");
    assertThatThrownBy(() -> PouredCurve.of(new long[] {2, 1}, new long[2]))
        .hasMessage("time goes back at sample 1");
    assertThatThrownBy(() -> PouredCurve.NONE.massAt(SessionTime.ZERO))
        .hasMessage("a curve without samples has no mass");
  }

  @Test
  void readings_become_poured_water_with_the_lag_taken_off() {
    // 6 g/s from 10 s to 20 s and 3 g/s from 40 s to 50 s on a rig of 500 g, shown through a
    // first-order lag of 0.5 s; evaporation between the pours is not poured water.
    Curve readings =
        readings(
            0,
            60,
            t ->
                500
                    + lagged(t - 10, 6, 10, 0.5)
                    + lagged(t - 40, 3, 10, 0.5)
                    - 0.02 * Math.max(0, t - 22));
    PouredCurve curve =
        PouredCurve.of(
            findings(pour(1, 10, 20, 60, false), pour(2, 40, 50, 30, false)), List.of(readings));
    for (double t = 12; t <= 19.5; t += 0.5) {
      assertThat(curve.massAt(at(t)).grams()).isEqualTo(6 * (t - 10), within(0.3));
    }
    assertThat(curve.massAt(at(30)).grams()).isEqualTo(60, within(1e-6));
    for (double t = 42; t <= 49.5; t += 0.5) {
      assertThat(curve.massAt(at(t)).grams()).isEqualTo(60 + 3 * (t - 40), within(0.4));
    }
    assertThat(curve.massAt(at(60)).grams()).isEqualTo(90, within(1e-6));
  }

  @Test
  void uneven_hand_stays_visible() {
    Curve readings =
        readings(0, 40, t -> t < 10 ? 0 : t < 15 ? 3 * (t - 10) : Math.min(60, 15 + 9 * (t - 15)));
    PouredCurve curve = PouredCurve.of(findings(pour(1, 10, 20, 60, false)), List.of(readings));
    assertThat(curve.massAt(at(15)).grams()).isEqualTo(15, within(0.1));
  }

  @Test
  void pour_whose_readings_do_not_lead_to_its_water_has_no_samples_of_its_own() {
    Curve tared =
        readings(0, 40, t -> t < 15 ? Math.max(0, 6 * (t - 10)) : Math.min(30, 6 * (t - 15)));
    assertThat(PouredCurve.of(findings(pour(1, 10, 20, 60, false)), List.of(tared)).size())
        .isEqualTo(2);
    Curve good = readings(0, 40, t -> Math.min(60, Math.max(0, 6 * (t - 10))));
    assertThat(PouredCurve.of(findings(pour(1, 10, 20, 60, true)), List.of(good)).size())
        .isEqualTo(2);
    assertThat(PouredCurve.of(findings(pour(1, 10, 20, 60, false)), List.of(good)).size())
        .isGreaterThan(90);
  }

  @Test
  void without_pours_readings_or_a_scale_under_everything_there_is_no_curve() {
    Curve server = new Curve(Place.SERVER);
    server.add(1, 2);
    assertThat(PouredCurve.of(findings(pour(1, 10, 20, 60, false)), List.of(server)))
        .isSameAs(PouredCurve.NONE);
    assertThat(
            PouredCurve.of(findings(pour(1, 10, 20, 60, false)), List.of(new Curve(Place.WHOLE))))
        .isSameAs(PouredCurve.NONE);
    assertThat(PouredCurve.of(findings(), List.of(readings(0, 1, t -> t))))
        .isSameAs(PouredCurve.NONE);
  }

  @Test
  void recording_that_ends_in_a_pour_is_traced_to_its_end() {
    Curve cut = readings(0, 15, t -> Math.max(0, 6 * (t - 10)));
    PouredCurve curve = PouredCurve.of(findings(pour(1, 10, 15, 30, false)), List.of(cut));
    assertThat(curve.massAt(at(13)).grams()).isEqualTo(18, within(0.2));
    assertThat(curve.massAt(at(15)).grams()).isEqualTo(30, within(1e-6));
  }

  /** What a first-order lag shows of a flow that runs from 0 to {@code length} s. */
  private static double lagged(double t, double flow, double length, double lag) {
    if (t <= 0) {
      return 0;
    }
    double inFlow = flow * (t - lag * (1 - Math.exp(-t / lag)));
    return t <= length ? inFlow : inFlow - lagged(t - length, flow, 1e9, lag);
  }

  private static Curve readings(double from, double to, DoubleUnaryOperator grams) {
    Curve curve = new Curve(Place.WHOLE);
    for (int i = 0; i <= Math.round(10 * (to - from)); i++) {
      double t = from + i / 10.0;
      curve.add(at(t).nanos(), Mass.ofGrams(grams.applyAsDouble(t)).nanograms());
    }
    return curve;
  }

  private static Findings.Pour pour(
      int index, double start, double end, double grams, boolean acrossGap) {
    return new Findings.Pour(
        index,
        at(start),
        at(end),
        Mass.ofGrams(grams),
        Flow.ofGramsPerSecond(grams / (end - start)),
        Optional.empty(),
        Optional.empty(),
        acrossGap);
  }

  private static Findings findings(Findings.Pour... pours) {
    return new Findings(
        Rig.WHOLE,
        new ArrayList<>(List.of(pours)),
        List.of(),
        Optional.empty(),
        List.of(),
        List.of(),
        List.of());
  }
}
