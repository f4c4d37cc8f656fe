package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Pours whose flow, jet and smoothing are known; all times in s, masses in g. */
class SharedSmoothingTest {
  private static final double START = 5;
  private static final double END = 13;
  private static final double OPENING = 0.3;
  private static final double FLOW = 6;
  private static final double NOISE = 0.05;

  /** What a scale shows while water lands evenly but for straight ramps at both ends. */
  private static double shown(Kernel kernel, double push, double t) {
    double sum = 0;
    double[][] bends = {{START, 1}, {START + OPENING, -1}, {END - OPENING, -1}, {END, 1}};
    for (double[] bend : bends) {
      double x = t - bend[0];
      sum += bend[1] * FLOW / OPENING * (kernel.bend(x) + push * kernel.ramp(x));
    }
    return sum;
  }

  private static EdgeFit edge(boolean isStart, Kernel kernel, double push, double from, double to) {
    double[] t = new double[(int) ((to - from) * 40)];
    double[] m = new double[t.length];
    double[] noise = new double[t.length];
    Arrays.fill(noise, NOISE);
    for (int i = 0; i < t.length; i++) {
      t[i] = from + i / 40.0;
      m[i] = shown(kernel, push, t[i]) + (i % 2 == 0 ? NOISE : -NOISE);
    }
    return new EdgeFit(isStart, t, m, noise, FLOW);
  }

  private static PourEdges pour(Kernel kernel, double push) {
    return new PourEdges(
        new Candidate(START + 0.2, END + 0.1, Optional.empty(), Optional.empty()),
        edge(true, kernel, push, START - 2, START + 2.2),
        edge(false, kernel, push, END - 1.4, END + 2.4),
        false);
  }

  /** The lags lie between those that are tried first. */
  @ParameterizedTest
  @CsvSource({"ONE_STAGE, 0.35", "TWO_STAGES, 0.47", "ONE_AVERAGE, 0.65", "SWINGING, 0.48"})
  void edges_tell_a_lag_that_nothing_else_tells(Kernel.Kind kind, double lag) {
    Kernel kernel = kind.of(lag);
    List<PourEdges> pours = new ArrayList<>(List.of(pour(kernel, 0.1), pour(kernel, 0.1)));
    SharedSmoothing smoothing = new SharedSmoothing(Optional.empty());
    smoothing.share(pours);
    assertThat(smoothing.kernel().lag()).isCloseTo(lag, within(0.04));
    assertThat(pours.get(0).start().moment()).isCloseTo(START, within(0.05));
    assertThat(pours.get(0).end().moment()).isCloseTo(END, within(0.06));
  }

  @ParameterizedTest
  @CsvSource({"0.02", "0.12", "0.23"})
  void push_of_the_jet_moves_no_edge(double push) {
    Kernel kernel = Kernel.Kind.TWO_STAGES.of(0.5);
    PourEdges pour = pour(kernel, push);
    new SharedSmoothing(Optional.of(kernel)).share(List.of(pour));
    assertThat(pour.start().moment()).isCloseTo(START, within(0.05));
    assertThat(pour.end().moment()).isCloseTo(END, within(0.06));
  }

  /** Costs of (x - 0.17)² on a parabola whose best lies between two of the values tried. */
  @Test
  void sharp_best_is_found_between_two_values() {
    List<SharedSmoothing.Guess> guesses = new ArrayList<>();
    for (double x : new double[] {0, 0.1, 0.2, 0.3}) {
      guesses.add(new SharedSmoothing.Guess(x, 40 + 1e4 * (x - 0.17) * (x - 0.17)));
    }
    assertThat(SharedSmoothing.mean(guesses)).isCloseTo(0.17, within(1e-3));
  }

  /** Where all are as likely none is drawn by lot; a dearer side draws the mean away from it. */
  @Test
  void values_count_by_their_likelihood() {
    List<SharedSmoothing.Guess> flat = new ArrayList<>();
    List<SharedSmoothing.Guess> tilted = new ArrayList<>();
    for (double x : new double[] {0, 0.1, 0.2, 0.3}) {
      flat.add(new SharedSmoothing.Guess(x, 40));
      tilted.add(new SharedSmoothing.Guess(x, 40 + 200 * x));
    }
    assertThat(SharedSmoothing.mean(flat)).isCloseTo(0.15, within(1e-9));
    // in steps of 0.01 the weights fall by 1/e each: sum of k/e^k over sum of 1/e^k = 1/(e - 1)
    assertThat(SharedSmoothing.mean(tilted)).isCloseTo(0.01 / (Math.E - 1), within(1e-6));
  }

  @Test
  void of_many_pours_some_are_asked_from_all_over_the_recording() {
    assertThat(SharedSmoothing.spread(List.of(0, 1, 2, 3, 4, 5, 6), 3)).containsExactly(0, 2, 4);
    assertThat(SharedSmoothing.spread(List.of(0, 1), 3)).containsExactly(0, 1);
    assertThat(SharedSmoothing.spread(List.of(), 3)).isEmpty();
  }

  /** 30 less of 100 readings' squares is far; where each still costs 2 it is half of that. */
  @Test
  void smaller_cost_counts_by_what_stays_unexplained() {
    assertThat(SharedSmoothing.isFarLikelier(110, 80, 100)).isTrue();
    assertThat(SharedSmoothing.isFarLikelier(230, 200, 100)).isFalse();
  }
}
