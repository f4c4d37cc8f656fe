package pourwright.coach;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import pourwright.coach.Cue.Kind;
import pourwright.coach.Guidance.Reason;
import pourwright.detect.Basis;
import pourwright.detect.Outlook;
import pourwright.detect.PourEvent;
import pourwright.plan.Plan;
import pourwright.plan.Plans;
import pourwright.plan.Schedule;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** The demo plan: 42 g at 0, 66 g when drained (48), 78 g 30 s after, 78 g when drained (130). */
class CoachTest {
  private static final double STEP = 0.1;

  @Test
  void before_the_first_water_only_the_first_pour_is_named() {
    Run run = new Run(Feedback.FULL);
    run.rest(0, 20);
    Guidance guidance = run.guidance();
    assertThat(guidance.planClock()).isEmpty();
    assertThat(guidance.pour()).isEmpty();
    assertThat(guidance.toGo()).isEmpty();
    assertThat(guidance.shown()).isTrue();
    assertThat(guidance.next())
        .hasValueSatisfying(
            next -> {
              assertThat(next.pour()).isEqualTo(1);
              assertThat(next.add()).isEqualTo(Mass.ofGrams(42));
              assertThat(next.reason()).isEqualTo(Reason.FIRST);
              assertThat(next.secondsUntil(at(20))).isEmpty();
            });
    assertThat(run.said()).isEmpty();
  }

  @Test
  void whole_run_on_plan_is_spoken_through() {
    Run run = new Run(Feedback.FULL);
    run.pour(1, 10, 42, 5);
    run.rest(18.4, 58);
    run.pour(2, 58, 66, 6);
    run.rest(69, 99);
    run.pour(3, 99, 78, 6);
    run.rest(112, 140);
    run.pour(4, 140, 78, 6);
    run.rest(153, 160);
    assertThat(run.said())
        .containsExactly(
            "16.7 EASE_OFF 1 ease off",
            "18.2 STOP 1 stop",
            "18.4 POURED 1 pour 1: 0 g too much",
            "30.0 TALK - where the lot comes from",
            "53.0 GET_READY 2 get ready: pour 2, 66 g",
            "57.8 START 2 pour 66 g",
            "67.3 EASE_OFF 2 ease off",
            "68.8 STOP 2 stop",
            "69.0 POURED 2 pour 2: 0 g too much",
            "94.0 GET_READY 3 get ready: pour 3, 78 g",
            "98.8 START 3 pour 78 g",
            "110.3 EASE_OFF 3 ease off",
            "111.8 STOP 3 stop",
            "112.0 POURED 3 pour 3: 0 g too much",
            "135.0 GET_READY 4 get ready: pour 4, 78 g",
            "139.8 START 4 pour 78 g",
            "151.3 EASE_OFF 4 ease off",
            "152.8 STOP 4 stop",
            "153.0 POURED 4 pour 4: 0 g too much",
            "153.0 DONE - all poured");
    assertThat(run.guidance().next()).isEmpty();
  }

  @Test
  void grams_to_go_count_to_the_moment_to_stop() {
    Run run = new Run(Feedback.FULL);
    run.start(1, 10);
    // 20 g shown; landing forecast 22 g; a reacting hand adds 5 g/s × 0.236 s
    Outlook seen = pouring(14, 20, 5, 22, 0.4);
    Guidance guidance = run.at(14, seen).guidance();
    assertThat(guidance.pour()).isEqualTo(OptionalInt.of(1));
    assertThat(guidance.planClock()).contains(at(4));
    assertThat(guidance.toGo().orElseThrow().grams()).isEqualTo(42 - 22 - 1.18, within(1e-6));
    assertThat(guidance.flow()).contains(Flow.ofGramsPerSecond(5));
    assertThat(guidance.wantedFlow()).contains(Flow.ofGramsPerSecond(5));
    // the display lags by 0.4 s: 2 g more have been poured; the line stands at 20 g
    assertThat(guidance.ahead().orElseThrow().grams()).isEqualTo(2, within(1e-6));
    assertThat(guidance.next().orElseThrow().pour()).isEqualTo(2);
    assertThat(guidance.next().orElseThrow().due()).contains(at(58));
  }

  @Test
  void without_a_forecast_the_shown_mass_counts() {
    Run run = new Run(Feedback.FULL);
    run.start(1, 10);
    Outlook seen =
        new Outlook(
            at(12),
            Outlook.Doing.POURING,
            1,
            Mass.ofGrams(9),
            Mass.ofGrams(9),
            Flow.ZERO,
            Optional.empty(),
            0,
            Mass.ZERO,
            10);
    assertThat(run.at(12, seen).guidance().toGo()).contains(Mass.ofGrams(33));
  }

  /** As under the server alone: what has run out by now says nothing of what is still to pour. */
  @Test
  void where_the_water_is_not_weighed_only_the_times_are_told() {
    Schedule schedule = Schedule.of(Plans.demo());
    Run run = new Run(Coach.withoutAmounts(schedule, CoachSettings.of(Feedback.FULL, 0)));
    run.start(1, 10);
    Guidance guidance = run.at(18.5, pouring(18.5, 42, 5, 44, 0)).guidance();
    assertThat(guidance.pour()).isEqualTo(OptionalInt.of(1));
    assertThat(guidance.toGo()).isEmpty();
    assertThat(guidance.ahead()).isEmpty();
    run.end(1, 19, 25);
    run.rest(19, 58);
    assertThat(run.said())
        .containsExactly(
            "30.0 TALK - where the lot comes from",
            "53.0 GET_READY 2 get ready: pour 2, 66 g",
            "57.8 START 2 pour 66 g");
  }

  @Test
  void line_ends_at_the_target() {
    Run run = new Run(Feedback.FULL);
    run.start(1, 10);
    Guidance guidance = run.at(30, pouring(30, 45, 5, 46, 0)).guidance();
    assertThat(guidance.ahead()).contains(Mass.ofGrams(3));
    assertThat(guidance.toGo().orElseThrow().isNegative()).isTrue();
  }

  @Test
  void wrong_flow_is_called_when_it_lasts_and_again_when_it_comes_back() {
    Run run = new Run(Feedback.FULL);
    run.start(2, 10);
    for (double t = 10; t < 13; t += STEP) {
      run.at(t, pouring(t, 1, 9, 1, 0));
    }
    assertThat(run.said()).containsExactly("13.0 SLOWER 1 slower");
    run.at(13.1, pouring(13.1, 1, 5, 1, 0));
    for (double t = 13.2; t < 15; t += STEP) {
      run.at(t, pouring(t, 1, 3.9, 1, 0));
    }
    run.at(15, pouring(15, 1, 5, 1, 0));
    for (double t = 15.1; t < 17; t += STEP) {
      run.at(t, pouring(t, 1, 3.9, 1, 0));
    }
    assertThat(run.said())
        .containsExactly("13.0 SLOWER 1 slower", "14.2 FASTER 1 faster", "16.1 FASTER 1 faster");
  }

  @Test
  void late_pour_is_called_after_the_start_and_beyond_the_tolerance() {
    Run run = new Run(Feedback.FULL);
    run.pour(1, 10, 42, 5);
    run.rest(18.4, 64);
    assertThat(run.said())
        .endsWith("57.8 START 2 pour 66 g", "60.1 LATE 2 pour 2 is late")
        .doesNotHaveDuplicates();
    assertThat(run.guidance().next().orElseThrow().secondsUntil(at(64)).orElseThrow())
        .isEqualTo(-6, within(1e-6));
  }

  @Test
  void dry_bed_calls_the_pour_even_when_it_is_learnt_late() {
    Run run = new Run(Feedback.FULL);
    run.pour(1, 10, 42, 5);
    run.rest(18.4, 40);
    assertThat(run.guidance().next().orElseThrow().reason()).isEqualTo(Reason.DRAINED_EXPECTED);
    run.hear(new PourEvent.BedDrained(1, at(37), at(40), Basis.MEASURED));
    run.rest(40.1, 42);
    assertThat(run.said()).endsWith("40.1 START 2 pour 66 g", "40.2 LATE 2 pour 2 is late");
    assertThat(run.guidance().next().orElseThrow().reason()).isEqualTo(Reason.DRAINED);
    assertThat(run.guidance().next().orElseThrow().due()).contains(at(37));
  }

  @Test
  void bound_on_the_drained_moment_is_no_drained_moment_but_a_mark_is() {
    Run run = new Run(Feedback.FULL);
    run.markDrained(5);
    run.pour(1, 10, 42, 5);
    run.hear(new PourEvent.BedDrained(1, at(37), at(40), Basis.BOUNDED));
    run.rest(40, 41);
    assertThat(run.guidance().next().orElseThrow().due()).contains(at(58));
    run.markDrained(41);
    run.rest(41.1, 41.2);
    assertThat(run.guidance().next().orElseThrow().due()).contains(at(41));
    run.markDrained(42);
    run.hear(new PourEvent.BedDrained(1, at(43), at(43), Basis.MODELLED));
    run.rest(43, 43.1);
    assertThat(run.guidance().next().orElseThrow().due()).contains(at(41));
  }

  @Test
  void gap_has_no_moment_while_the_pour_before_still_runs() {
    Run run = new Run(Feedback.FULL);
    run.pour(1, 10, 42, 5);
    run.start(2, 58);
    Guidance guidance = run.at(60, pouring(60, 10, 6, 12, 0)).guidance();
    assertThat(guidance.next().orElseThrow().pour()).isEqualTo(3);
    assertThat(guidance.next().orElseThrow().reason()).isEqualTo(Reason.GAP);
    assertThat(guidance.next().orElseThrow().due()).isEmpty();
  }

  @Test
  void clock_is_the_reason_where_the_plan_says_so() {
    Plan plan =
        Plans.read(
            """
            format: 1
            dose_g: 15
            water_g: 240
            pours:
              - {add_g: 120, flow_g_per_s: 6, start: {at_s: 0}}
              - {add_g: 120, flow_g_per_s: 6, start: {at_s: 60}}
            """);
    Run run = new Run(plan, Feedback.FULL, 0);
    run.pour(1, 10, 120, 6);
    run.rest(30, 31);
    assertThat(run.guidance().next().orElseThrow().reason()).isEqualTo(Reason.CLOCK);
    assertThat(run.guidance().next().orElseThrow().due()).contains(at(70));
  }

  @Test
  void short_pour_is_taken_up_again_for_the_rest_of_its_water() {
    Run run = new Run(Feedback.FULL);
    run.pour(1, 10, 42, 5);
    run.pour(2, 58, 40, 6);
    assertThat(run.said()).last().asString().contains("POURED 2 pour 2: 26 g too little");
    run.start(3, 70);
    Guidance guidance = run.at(71, pouring(71, 6, 0, 6, 0)).guidance();
    assertThat(guidance.pour()).isEqualTo(OptionalInt.of(2));
    assertThat(guidance.toGo().orElseThrow().grams()).isEqualTo(20, within(1e-6));
  }

  @Test
  void short_pour_is_left_when_the_next_one_is_nearer() {
    Run run = new Run(Feedback.FULL);
    run.pour(1, 10, 30, 5);
    run.start(2, 50);
    assertThat(run.at(51, pouring(51, 6, 6, 6, 0)).guidance().pour()).isEqualTo(OptionalInt.of(2));
  }

  @Test
  void last_pour_can_be_taken_up_again_and_water_beyond_the_plan_has_no_goal() {
    Plan plan =
        Plans.read(
            """
            format: 1
            dose_g: 15
            water_g: 240
            pours: [{add_g: 240, flow_g_per_s: 6, start: {at_s: 0}}]
            """);
    Run run = new Run(plan, Feedback.FULL, 0);
    run.pour(1, 10, 200, 6);
    run.start(2, 90);
    assertThat(run.at(91, pouring(91, 6, 0, 6, 0)).guidance().toGo().orElseThrow().grams())
        .isEqualTo(34, within(1e-6));
    run.end(2, 97, 40);
    run.start(3, 120);
    Guidance beyond = run.at(121, pouring(121, 6, 6, 6, 0)).guidance();
    assertThat(beyond.pour()).isEmpty();
    assertThat(beyond.toGo()).isEmpty();
    run.end(3, 122, 12);
    run.rest(122, 123);
    assertThat(run.said()).last().asString().contains("12 g that were not planned");
  }

  @Test
  void lost_scale_is_called_at_once_and_guidance_is_silent_until_it_is_back() {
    Run run = new Run(Feedback.FULL);
    run.start(1, 10);
    run.at(12, blind(12));
    run.at(13, blind(13));
    run.at(14, pouring(14, 20, 5, 22, 0));
    run.at(14.1, pouring(14.1, 20, 5, 22, 0));
    run.at(15, blind(15));
    run.at(16, pouring(16, 20, 5, 22, 0));
    assertThat(run.said())
        .containsExactly(
            "12.0 LINK_LOST - scale lost",
            "14.0 LINK_BACK - scale is back",
            "15.0 LINK_LOST - scale lost",
            "16.0 LINK_BACK - scale is back");
  }

  @Test
  void after_the_lift_nothing_more_is_asked_for() {
    Run run = new Run(Feedback.FULL);
    run.hear(new PourEvent.DripperLifted(at(1), at(1), Mass.ofGrams(300), Optional.empty()));
    run.pour(1, 10, 42, 5);
    run.hear(new PourEvent.DripperLifted(at(40), at(40), Mass.ofGrams(300), Optional.empty()));
    int before = run.said().size();
    run.rest(40, 80);
    assertThat(run.said()).hasSize(before);
    assertThat(run.guidance().next()).isEmpty();
  }

  @Test
  void events_that_change_nothing_change_nothing() {
    Run run = new Run(Feedback.FULL);
    run.hear(new PourEvent.PourEnded(1, at(3), at(3), Mass.ofGrams(3)));
    run.hear(new PourEvent.Tared(pourwright.rig.Place.WHOLE, at(4), at(4), Mass.ofGrams(3)));
    run.rest(5, 6);
    assertThat(run.guidance().planClock()).isEmpty();
    run.start(1, 10);
    run.markDrained(11);
    run.end(1, 10, 4);
    run.rest(11, 12);
    assertThat(run.guidance().next().orElseThrow().pour()).isPositive();
  }

  @Test
  void bandwidth_speaks_only_when_something_is_outside() {
    Run good = new Run(Feedback.BANDWIDTH);
    good.pour(1, 10, 42, 5);
    good.rest(18.4, 58);
    assertThat(good.said()).containsExactly("30.0 TALK - where the lot comes from");
    assertThat(good.guidance().shown()).isFalse();

    Run over = new Run(Feedback.BANDWIDTH);
    over.pour(1, 10, 48, 5);
    assertThat(over.said())
        .containsExactly("18.6 STOP 1 stop", "19.6 POURED 1 pour 1: 6 g too much");
    over.rest(20, 61);
    assertThat(over.said()).last().isEqualTo("60.1 LATE 2 pour 2 is late");
    assertThat(over.guidance().shown()).isTrue();
  }

  @Test
  void bandwidth_shows_figures_for_each_error_alone() {
    Run run = new Run(Feedback.BANDWIDTH);
    run.start(1, 10);
    // on the line, landing on it
    assertThat(run.at(14, pouring(14, 20, 5, 20, 0)).guidance().shown()).isFalse();
    // ahead by 3 g, behind by 3 g
    assertThat(run.at(14, pouring(14, 23, 5, 23, 0)).guidance().shown()).isTrue();
    assertThat(run.at(14, pouring(14, 17, 5, 17, 0)).guidance().shown()).isTrue();
    // on the line, but about to land 3 g over
    assertThat(run.at(18, pouring(18, 40, 0, 45, 0)).guidance().shown()).isTrue();
    assertThat(run.at(18, pouring(18, 40, 0, 44, 0)).guidance().shown()).isFalse();
    run.end(1, 18.4, 42);
    assertThat(run.at(59.9, resting(59.9, 1)).guidance().shown()).isFalse();
    assertThat(run.at(60.1, resting(60.1, 1)).guidance().shown()).isTrue();
    // a pour that runs is not late
    run.start(2, 61);
    assertThat(run.at(61.1, pouring(61.1, 0.6, 6, 1, 0)).guidance().shown()).isFalse();
  }

  @Test
  void flow_that_turns_from_fast_to_slow_gets_its_own_patience() {
    Run run = new Run(Feedback.FULL);
    run.start(1, 10);
    for (double t = 12; t < 12.6; t += STEP) {
      run.at(t, pouring(t, 1, 9, 1, 0));
    }
    for (double t = 12.6; t < 13.4; t += STEP) {
      run.at(t, pouring(t, 1, 3, 1, 0));
    }
    assertThat(run.said()).isEmpty();
    run.at(13.7, pouring(13.7, 1, 3, 1, 0));
    assertThat(run.said()).containsExactly("13.7 FASTER 1 faster");
  }

  @Test
  void gap_after_an_unplanned_pour_falls_back_to_the_clock() {
    Run run = new Run(Feedback.FULL);
    run.pour(1, 10, 42, 5);
    run.pour(2, 58, 66, 6);
    run.pour(3, 80, 12, 6);
    run.rest(82, 83);
    assertThat(run.guidance().next().orElseThrow().pour()).isEqualTo(3);
    assertThat(run.guidance().next().orElseThrow().due()).contains(at(99));
  }

  @Test
  void blind_run_says_and_shows_nothing_but_a_lost_scale() {
    Run run = new Run(Feedback.BLIND);
    run.pour(1, 10, 60, 9);
    run.rest(18, 70);
    assertThat(run.said()).isEmpty();
    assertThat(run.guidance().shown()).isFalse();
    run.at(71, blind(71));
    assertThat(run.said()).containsExactly("71.0 LINK_LOST - scale lost");
  }

  @Test
  void fading_guides_fewer_pours_from_run_to_run() {
    List<Long> guided = new ArrayList<>();
    for (int run = 0; run < 12; run++) {
      int number = run;
      guided.add(
          java.util.stream.IntStream.rangeClosed(1, 100)
              .filter(pour -> Feedback.isGuided(number, pour))
              .count());
    }
    assertThat(guided)
        .isSortedAccordingTo(java.util.Comparator.reverseOrder())
        .startsWith(100L, 90L, 80L)
        .endsWith(20L, 20L);
    Run later = new Run(Plans.demo(), Feedback.FADED, 8);
    later.pour(1, 10, 42, 5);
    later.rest(18.4, 58);
    boolean first = Feedback.isGuided(8, 1);
    boolean second = Feedback.isGuided(8, 2);
    assertThat(first).isNotEqualTo(second);
    assertThat(later.said().stream().anyMatch(line -> line.contains("STOP 1"))).isEqualTo(first);
    assertThat(later.said().stream().anyMatch(line -> line.contains("START 2"))).isEqualTo(second);
    assertThat(later.guidance().shown()).isEqualTo(second);
  }

  @ParameterizedTest
  @EnumSource(Feedback.class)
  void no_cue_is_said_twice(Feedback feedback) {
    Run run = new Run(feedback);
    run.pour(1, 10, 50, 5);
    run.rest(20, 70);
    run.pour(2, 70, 60, 7);
    run.rest(80, 120);
    assertThat(run.said()).doesNotHaveDuplicates();
    assertThat(run.said().stream().map(line -> line.substring(line.indexOf(' '))))
        .doesNotHaveDuplicates();
  }

  @Test
  void stop_is_held_back_by_nothing_but_the_forecast() {
    assertThat(Feedback.FULL.admits(Kind.STOP, false, false)).isTrue();
    assertThat(Feedback.FADED.shows(true, false)).isFalse();
    assertThat(Feedback.findByWord("faded")).contains(Feedback.FADED);
    assertThat(Feedback.findByWord("loud")).isEmpty();
  }

  /** One run and all that was said in it. */
  private static final class Run {
    private Coach coach;
    private final List<String> said = new ArrayList<>();
    private Optional<Guidance> last = Optional.empty();
    private int made;

    Run(Feedback feedback) {
      this(Plans.demo(), feedback, 0);
    }

    Run(Plan plan, Feedback feedback, int fadedRun) {
      this(Coach.of(Schedule.of(plan), CoachSettings.of(feedback, fadedRun)));
    }

    Run(Coach coach) {
      this.coach = coach;
    }

    void hear(PourEvent event) {
      coach = coach.heard(event);
    }

    void markDrained(double at) {
      coach = coach.markedDrained(CoachTest.at(at));
    }

    Coach.Step at(double at, Outlook seen) {
      Coach.Step step = coach.at(CoachTest.at(at), Optional.of(seen));
      coach = step.next();
      last = Optional.of(step.guidance());
      for (Cue cue : step.cues()) {
        said.add(
            String.format(
                java.util.Locale.ROOT,
                "%.1f %s %s %s",
                cue.at().seconds(),
                cue.kind(),
                cue.pour().isPresent() ? cue.pour().getAsInt() : "-",
                cue.say()));
      }
      return step;
    }

    void start(int index, double at) {
      made = index;
      hear(new PourEvent.PourStarted(index, CoachTest.at(at), CoachTest.at(at)));
    }

    void end(int index, double at, double grams) {
      hear(new PourEvent.PourEnded(index, CoachTest.at(at), CoachTest.at(at), Mass.ofGrams(grams)));
    }

    void pour(int index, double from, double grams, double flow) {
      start(index, from);
      double end = from + grams / flow;
      int steps = (int) Math.round((end - from) / STEP);
      for (int i = 0; i < steps; i++) {
        double t = from + i * STEP;
        at(t, pouring(t, flow * (t - from), flow, flow * (t - from), 0));
      }
      end(index, end, grams);
      at(end, resting(end, made));
    }

    void rest(double from, double to) {
      int steps = (int) Math.round((to - from) / STEP);
      for (int i = 0; i <= steps; i++) {
        at(from + i * STEP, resting(from + i * STEP, made));
      }
    }

    Guidance guidance() {
      return last.orElseThrow();
    }

    List<String> said() {
      return said;
    }
  }

  private static SessionTime at(double seconds) {
    return SessionTime.ofMillis(Math.round(1e3 * seconds));
  }

  private static Outlook pouring(
      double at, double shown, double flow, double landing, double lagSeconds) {
    return new Outlook(
        at(at),
        Outlook.Doing.POURING,
        1,
        Mass.ofGrams(shown),
        Mass.ofGrams(shown),
        Flow.ofGramsPerSecond(flow),
        Optional.of(new Outlook.Landing(Mass.ofGrams(landing), Mass.ofGrams(landing), Mass.ZERO)),
        lagSeconds,
        Mass.ofMilligrams(50),
        10);
  }

  private static Outlook resting(double at, int pours) {
    return idle(at, pours, Outlook.Doing.RESTING);
  }

  private static Outlook blind(double at) {
    return idle(at, 1, Outlook.Doing.BLIND);
  }

  private static Outlook idle(double at, int pours, Outlook.Doing doing) {
    return new Outlook(
        at(at),
        doing,
        pours,
        Mass.ZERO,
        Mass.ZERO,
        Flow.ZERO,
        Optional.empty(),
        0,
        Mass.ofMilligrams(50),
        10);
  }
}
