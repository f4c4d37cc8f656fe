package pourwright.coach;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.compare.Comparator;
import pourwright.compare.Comparison;
import pourwright.compare.MadePour;
import pourwright.compare.PouredCurve;
import pourwright.compare.Routine;
import pourwright.plan.Plan;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.plan.Schedule;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class AdviceTest {
  private static final Plan PLAN =
      ((PlanReading.Understood)
              PlanReader.read(
                  """
                  format: 1
                  title: Four
                  dose_g: 16
                  water_g: 240
                  pours:
                    - {add_g: 60, flow_g_per_s: 6.0, start: {at_s: 0}}
                    - {add_g: 60, flow_g_per_s: 6.0, start: {at_s: 40}}
                    - {add_g: 60, flow_g_per_s: 6.0, start: {at_s: 80}}
                    - {add_g: 60, flow_g_per_s: 6.0, start: {at_s: 120}}
                  """,
                  "four.yaml"))
          .plan();

  /** Pours with these errors of mass (g), start (s) and flow (g/s). */
  private static String after(double[]... errors) {
    List<MadePour> made = new ArrayList<>();
    for (int i = 0; i < errors.length; i++) {
      double grams = 60 + errors[i][0];
      double flow = 6 + errors[i][2];
      SessionTime start = SessionTime.ofSeconds(5 + 40 * i + errors[i][1]);
      made.add(
          new MadePour(
              i + 1,
              start,
              start.plusSeconds(grams / flow),
              Mass.ofGrams(grams),
              Flow.ofGramsPerSecond(flow)));
    }
    Comparison comparison =
        Comparator.compare(new Routine(Schedule.of(PLAN), made, Map.of()), PouredCurve.NONE);
    return Advice.workOn(PLAN, comparison);
  }

  private static double[] off(double grams, double seconds, double flow) {
    return new double[] {grams, seconds, flow};
  }

  @Test
  void a_run_inside_its_tolerances_is_to_be_repeated() {
    assertThat(after(off(1, 0, 0), off(-1, 1, 0.2), off(0, -1, 0), off(0, 0, 0)))
        .isEqualTo("Every pour is inside its tolerances. Now do it again.");
    assertThat(after(off(0, 0, 0), off(0, 0, 0), off(0, 0, 0), off(0, 0, 0)))
        .isEqualTo("Every pour is inside its tolerances. Now do it again.");
  }

  @ParameterizedTest
  @CsvSource({
    "4, 0, 0, Stop sooner: your pours are 4.0 g too heavy on average.",
    "-4, 0, 0, Pour on a little: your pours are 4.0 g short on average.",
    "0, 4, 0, Begin sooner: your pours start 3.0 s late on average.",
    "0, -4, 0, Hold back: your pours start 3.0 s early on average.",
    "0, 0, 2, Pour slower: your water runs 2.0 g/s too fast on average.",
    "0, 0, -2, Pour faster: your water runs 2.0 g/s too slow on average."
  })
  void a_habit_is_told_as_its_mean(double grams, double seconds, double flow, String advice) {
    double[] same = off(grams, seconds, flow);
    // The first pour starts the clock, so its own start is never off.
    assertThat(after(off(grams, 0, flow), same, same, same)).isEqualTo(advice);
  }

  @ParameterizedTest
  @CsvSource({
    "5, 0, 0, 'Pour 3: stop sooner, it was 5.0 g too heavy.'",
    "-5, 0, 0, Pour 3: it was 5.0 g short.",
    "0, 5, 0, 'Pour 3: begin sooner, it was 5.0 s late.'",
    "0, -5, 0, 'Pour 3: hold back, it was 5.0 s early.'",
    "0, 0, 3, 'Pour 3: pour slower, it ran 3.0 g/s too fast.'",
    "0, 0, -3, 'Pour 3: pour faster, it ran 3.0 g/s too slow.'"
  })
  void a_single_slip_is_told_of_its_pour(double grams, double seconds, double flow, String advice) {
    double[] none = off(0, 0, 0);
    assertThat(after(none, none, off(grams, seconds, flow), none)).isEqualTo(advice);
  }

  @Test
  void a_missed_pour_comes_before_everything() {
    assertThat(after(off(9, 0, 0), off(9, 0, 0)))
        .isEqualTo("Pour 3 was missed: make every pour first.");
  }

  @Test
  void so_does_a_pour_nobody_planned() {
    double[] none = off(0, 0, 0);
    assertThat(after(none, none, none, none, off(-30, 0, 0)))
        .isEqualTo("Leave out the pour that is not in the plan.");
  }
}
