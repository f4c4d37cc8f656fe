package pourwright.performance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StepResponseTest {
  private static final double DEAD = 0.15;
  private static final double HAND = 0.06;

  /** Changes of 200 g up and down as a scale of this shape shows them, each on a beat. */
  private static List<StepTrace> traces(
      Filter filter, double lag, double perSecond, int count, boolean isOnBeat) {
    SplittableRandom random = new SplittableRandom(21);
    List<StepTrace> traces = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double before = i % 2 == 0 ? 0 : 200;
      double beat = 1 + random.nextDouble();
      double moved = beat + DEAD + 0.02 * random.nextGaussian();
      int readings = (int) Math.round(perSecond * (3 + 8 * lag));
      double[] seconds = new double[readings];
      double[] grams = new double[readings];
      for (int k = 0; k < readings; k++) {
        seconds[k] = k / perSecond;
        double share = filter.answer(seconds[k] - moved, lag, HAND);
        grams[k] = Math.rint((before + (200 - 2 * before) * share) * 10) / 10;
      }
      traces.add(
          new StepTrace(
              Series.of(seconds, grams),
              before,
              200 - before,
              isOnBeat ? OptionalDouble.of(beat) : OptionalDouble.empty()));
    }
    return traces;
  }

  @ParameterizedTest
  @CsvSource({
    "FIRST, 0.05, 40",
    "FIRST, 0.3, 10",
    "FIRST, 0.7, 5",
    "SECOND, 0.1, 20",
    "SECOND, 0.4, 10",
    "WINDOW, 0.25, 20",
    "WINDOW, 0.5, 10"
  })
  void shape_and_lag_of_the_smoothing_are_found(Filter filter, double lag, double perSecond) {
    StepResponse found = StepResponse.find(traces(filter, lag, perSecond, 12, true)).orElseThrow();
    assertThat(found.filter()).isEqualTo(filter);
    assertThat(found.filterLag().value()).isCloseTo(lag, within(0.01 + 0.03 * lag));
    assertThat(found.filterLag().covers(lag)).isTrue();
    assertThat(found.deadTime().orElseThrow().covers(DEAD)).isTrue();
    assertThat(found.totalLag().covers(lag + DEAD)).isTrue();
    assertThat(found.totalLag().value()).isCloseTo(lag + DEAD, within(0.03));
    assertThat(found.changes()).isEqualTo(12);
  }

  @Test
  void without_a_beat_the_dead_time_is_not_known() {
    StepResponse found = StepResponse.find(traces(Filter.FIRST, 0.3, 10, 6, false)).orElseThrow();
    assertThat(found.deadTime()).isEmpty();
    assertThat(found.totalLag()).isEqualTo(found.filterLag());
    assertThat(found.filterLag().covers(0.3)).isTrue();
  }

  @Test
  void fewer_than_three_changes_tell_nothing() {
    assertThat(StepResponse.find(traces(Filter.FIRST, 0.3, 10, 2, true))).isEmpty();
    assertThat(StepResponse.find(List.of())).isEmpty();
  }

  @Test
  void changes_with_a_pushing_hand_or_in_two_goes_are_left_out() {
    List<StepTrace> traces = new ArrayList<>(traces(Filter.SECOND, 0.3, 20, 8, true));
    Series clean = traces.get(0).readings();
    double[] seconds = new double[clean.size()];
    double[] pushed = new double[clean.size()];
    double[] twice = new double[clean.size()];
    for (int i = 0; i < clean.size(); i++) {
      seconds[i] = clean.seconds(i);
      pushed[i] = clean.grams(i) + (clean.grams(i) > 150 && seconds[i] < 3 ? 30 : 0);
      twice[i] = seconds[i] < 1.5 ? 0 : seconds[i] < 3 ? 90 : 200;
    }
    traces.add(new StepTrace(Series.of(seconds, pushed), 0, 200, OptionalDouble.empty()));
    traces.add(new StepTrace(Series.of(seconds, twice), 0, 200, OptionalDouble.empty()));
    traces.add(
        new StepTrace(
            Series.of(seconds, new double[seconds.length]), 0, 200, OptionalDouble.empty()));
    StepResponse found = StepResponse.find(traces).orElseThrow();
    assertThat(found.changes()).isEqualTo(8);
    assertThat(found.filterLag().covers(0.3)).isTrue();
  }

  @Test
  void a_time_constant_belongs_to_every_lag() {
    assertThat(Filter.FIRST.timeConstant(0.4)).isEqualTo(0.4);
    assertThat(Filter.SECOND.timeConstant(0.4)).isEqualTo(0.2);
    assertThat(Filter.WINDOW.timeConstant(0.4)).isEqualTo(0.8);
    for (Filter filter : Filter.values()) {
      // the answer to a quick step passes the half at the median
      assertThat(filter.answer(filter.median(0.5), 0.5, 1e-4)).isCloseTo(0.5, within(1e-3));
    }
  }
}
