package pourwright.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import pourwright.bench.Tally.Count;
import pourwright.bench.Tally.Measure;
import pourwright.detect.Findings;
import pourwright.detect.PourEvent;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class ScorerTest {
  private static final int RECORDINGS = 10;

  /** Knows the truth and gets it wrong by set amounts. */
  private record Oracle(
      double liveLate, double startOff, double massOff, int dropEvery, boolean addsOne)
      implements Finder {
    @Override
    public Found find(Take take) {
      List<PourEvent> announced = new ArrayList<>();
      List<Findings.Pour> pours = new ArrayList<>();
      int index = 0;
      for (Truth.Pour pour : take.truth().pours()) {
        index++;
        if (dropEvery > 0 && index % dropEvery == 0) {
          continue;
        }
        add(announced, pours, index, pour.startSeconds(), pour.endSeconds(), pour.grams());
      }
      if (addsOne) {
        add(announced, pours, 99, 0.1, 0.4, 3);
      }
      return new Found(
          announced,
          new Findings(
              take.rig(), pours, List.of(), Optional.empty(), List.of(), List.of(), List.of()));
    }

    private void add(
        List<PourEvent> announced,
        List<Findings.Pour> pours,
        int index,
        double start,
        double end,
        double grams) {
      announced.add(new PourEvent.PourStarted(index, at(start), at(start + liveLate)));
      announced.add(
          new PourEvent.PourEnded(index, at(end), at(end + liveLate), Mass.ofGrams(grams)));
      pours.add(
          new Findings.Pour(
              index,
              at(start + startOff),
              at(end),
              Mass.ofGrams(grams + massOff),
              Flow.ZERO,
              Optional.of(at(start + liveLate)),
              Optional.of(at(end + liveLate)),
              false));
    }

    private static SessionTime at(double seconds) {
      return SessionTime.ofSeconds(seconds);
    }
  }

  private static Tally score(Finder finder) {
    return DetectionBench.measure(Family.CLEAN, finder, RECORDINGS, 100);
  }

  @Test
  void the_truth_itself_scores_zero() {
    Tally tally = score(new Oracle(0, 0, 0, 0, false));

    assertThat(tally.liveWrong()).isZero();
    assertThat(tally.wrong()).isZero();
    assertThat(tally.p95(Measure.LIVE_START)).isCloseTo(0, within(1e-6));
    assertThat(tally.p95(Measure.START)).isCloseTo(0, within(1e-6));
    assertThat(tally.p95(Measure.MASS)).isCloseTo(0, within(1e-6));
  }

  @Test
  void delays_and_errors_come_back_as_they_were_put_in() {
    Tally tally = score(new Oracle(0.4, -0.2, 0.3, 0, false));

    assertThat(tally.median(Measure.LIVE_START)).isCloseTo(0.4, within(1e-6));
    assertThat(tally.median(Measure.LIVE_END)).isCloseTo(0.4, within(1e-6));
    assertThat(tally.median(Measure.START)).isCloseTo(0.2, within(1e-6));
    assertThat(tally.median(Measure.MASS)).isCloseTo(0.3, within(1e-6));
  }

  @Test
  void a_pour_left_out_is_missed_and_one_made_up_is_false() {
    Tally missing = score(new Oracle(0, 0, 0, 2, false));
    Tally inventing = score(new Oracle(0, 0, 0, 0, true));

    assertThat(missing.number(Count.MISSED)).isGreaterThanOrEqualTo(RECORDINGS - 2);
    assertThat(missing.number(Count.LIVE_MISSED)).isEqualTo(missing.number(Count.MISSED));
    assertThat(missing.number(Count.FALSE)).isZero();
    assertThat(inventing.number(Count.FALSE)).isEqualTo(RECORDINGS);
    assertThat(inventing.number(Count.LIVE_FALSE)).isEqualTo(RECORDINGS);
    assertThat(inventing.number(Count.MISSED)).isZero();
  }
}
