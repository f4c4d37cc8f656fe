package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A scale that weighs every 0.1 s, heard over links that hold its readings up. */
class SampleClockTest {
  private static final double PERIOD = 0.1;

  private final SampleClock clock = new SampleClock();

  /** As the signal does: asks for the next arrival only where the clock wants it. */
  private double timeOf(double arrives, double next) {
    return clock.timeOf(arrives, clock.isOpen(arrives) ? next : Double.POSITIVE_INFINITY);
  }

  @Test
  void link_that_holds_nothing_up_is_believed() {
    for (int i = 0; i < 300; i++) {
      double at = 5 + i * PERIOD;
      assertThat(timeOf(at, at + PERIOD)).isCloseTo(at, within(1e-9));
      if (i == 5) {
        assertThat(clock.period()).isZero();
      }
    }
    assertThat(clock.period()).isCloseTo(PERIOD, within(1e-9));
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 3, 4, 7})
  void readings_that_come_several_at_a_time_get_their_times_back(int batch) {
    double worst = 0;
    double last = 0;
    for (int i = 0; i < 400; i++) {
      double weighed = i * PERIOD;
      double taken = timeOf(arrival(i, batch), arrival(i + 1, batch));
      assertThat(taken).isBetween(last, arrival(i, batch));
      last = taken;
      if (i >= 28) {
        worst = Math.max(worst, Math.abs(taken - weighed));
      }
    }
    // by arrival the first of seven would be off by 0.6 s; no whole number of sevens is counted
    assertThat(worst).isLessThan(Math.max(0.03, 0.01 * batch));
    assertThat(clock.period()).isCloseTo(PERIOD, within(0.004));
  }

  /** With the last of its batch. */
  private static double arrival(int reading, int batch) {
    return (reading / batch * batch + batch - 1) * PERIOD;
  }

  /** A link that speaks every 0.23 s to a scale that weighs every 0.079 s. */
  @Test
  void clock_does_not_fall_behind_a_link_whose_bursts_differ() {
    double period = 0.079;
    double link = 0.23;
    double worst = 0;
    for (int i = 0; i < 3000; i++) {
      double arrives = Math.ceil(i * period / link) * link;
      double following = Math.ceil((i + 1) * period / link) * link;
      double taken = timeOf(arrives, following);
      if (i > 40) {
        worst = Math.max(worst, Math.abs(taken - i * period));
      }
    }
    assertThat(worst).isLessThan(0.12); // half of the time that the link is silent
    assertThat(clock.period()).isCloseTo(period, within(0.003));
  }

  /** Eighty readings a second, once held up for 0.8 s: 64 of them come at the same moment. */
  @Test
  void what_follows_a_hold_up_counts_from_no_reading_in_it() {
    double period = 0.0125;
    double[] arrives = new double[1001];
    for (int i = 0; i < arrives.length; i++) {
      double weighed = i * period;
      arrives[i] = weighed > 5 && weighed < 5.8 ? 5.8 : weighed;
    }
    for (int i = 0; i < 1000; i++) {
      double taken = timeOf(arrives[i], arrives[i + 1]);
      if (i > 20) {
        assertThat(taken).as("reading %d", i).isCloseTo(i * period, within(0.02));
        assertThat(clock.period()).isCloseTo(period, within(0.0005));
      }
    }
  }

  /** The link delivers what had waited before it was opened, all at once. */
  @Test
  void backlog_at_the_beginning_is_got_over() {
    for (int i = 0; i < 400; i++) {
      double weighed = (i - 12) * PERIOD;
      double taken = timeOf(Math.max(0, weighed), Math.max(0, weighed + PERIOD));
      if (i > 80) {
        assertThat(taken).as("reading %d", i).isCloseTo(weighed, within(0.02));
      }
    }
  }

  @Test
  void readings_that_were_held_up_once_get_their_times_back() {
    for (int i = 0; i < 60; i++) {
      // readings 30 to 38 arrive together with reading 39
      double arrives = i >= 30 && i < 39 ? 3.9 : i * PERIOD;
      double next = i + 1 >= 30 && i + 1 < 39 ? 3.9 : (i + 1) * PERIOD;
      assertThat(timeOf(arrives, next)).as("reading %d", i).isCloseTo(i * PERIOD, within(0.012));
    }
  }

  @Test
  void when_readings_are_lost_time_has_gone_on() {
    for (int i = 0; i < 200; i++) {
      if ((i % 25 >= 15 && i % 25 < 23) || i % 25 == 5) {
        continue; // eight in a row and a single one of 25 never arrive
      }
      double at = i * PERIOD;
      int following = (i + 1) % 25 == 15 ? i + 9 : (i + 1) % 25 == 5 ? i + 2 : i + 1;
      assertThat(timeOf(at, following * PERIOD)).as("reading %d", i).isCloseTo(at, within(1e-6));
    }
    assertThat(clock.period()).isCloseTo(PERIOD, within(0.01)); // single ones are not missed
  }

  @Test
  void after_a_gap_it_counts_anew_and_keeps_the_period() {
    for (int i = 0; i < 50; i++) {
      timeOf(i * PERIOD, (i + 1) * PERIOD);
    }
    clock.restart();
    assertThat(clock.period()).isCloseTo(PERIOD, within(1e-9));
    assertThat(timeOf(20, 20.1)).isEqualTo(20);
    assertThat(timeOf(20.1, 20.15)).isCloseTo(20.1, within(1e-9));
    assertThat(clock.period()).isCloseTo(PERIOD, within(1e-9));
    for (int i = 1; i < 20; i++) {
      timeOf(20.1 + i * 0.05, 20.1 + (i + 1) * 0.05);
    }
    assertThat(clock.period()).isCloseTo(0.0525, within(0.001)); // (0.1 + 19 times 0.05) / 20
  }

  @Test
  void time_never_goes_back() {
    timeOf(7, 7.1);
    clock.restart();
    assertThat(timeOf(6.9, 7)).isEqualTo(7);
  }
}
