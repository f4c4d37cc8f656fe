package pourwright.stage;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.plan.Plan;
import pourwright.plan.PlanProblem;

class StageReaderTest {
  private static final Plan PLAN =
      Routines.plan(
          2,
          List.of(Routines.at(0), Routines.drained(42), Routines.after(20), Routines.drained(130)),
          7,
          10,
          10,
          10);

  private static StageReading read(String text) {
    return StageReader.read(
        text,
        "routine.yaml",
        name -> name.equals("good.yaml") ? Optional.of(PLAN) : Optional.empty(),
        name ->
            name.equals("heat.yaml")
                ? Optional.of(new EventRules("heat", 480, 2, 120, 65))
                : Optional.empty());
  }

  private static StageFile understood(String text) {
    StageReading reading = read(text);
    assertThat(reading).as("%s", reading).isInstanceOf(StageReading.Understood.class);
    return ((StageReading.Understood) reading).file();
  }

  @Test
  void a_short_routine_takes_common_practice_for_the_rest() {
    StageFile file = understood("format: 1\nbrewers:\n- {plan: good.yaml}\n- {plan: good.yaml}\n");
    assertThat(file.rules()).isEqualTo(EventRules.COMMON);
    assertThat(file.spreads()).isEqualTo(Spreads.PRACTISED);
    Routine routine = file.routine();
    assertThat(routine.limitSeconds()).isEqualTo(600);
    assertThat(routine.reserveSeconds()).isEqualTo(20);
    assertThat(routine.hands()).isEqualTo(HandTimes.COMMON);
    assertThat(routine.kettle()).isEqualTo(Kettle.COMMON);
    assertThat(routine.leftToRight()).isTrue();
    assertThat(routine.stations())
        .extracting(Station::name)
        .containsExactly("brewer 1", "brewer 2");
    // 42 - 7 as planned; a gap says nothing of the bed; 130 - 82 as planned; the longest known
    assertThat(routine.stations().get(0).drainSeconds()).containsExactly(35, 35, 48, 48);
  }

  @Test
  void everything_that_a_routine_says_is_taken() {
    StageFile file =
        understood(
            """
            format: 1
            title: Heat
            event: heat.yaml
            reserve_s: 30
            brewers:
              - {name: left, plan: good.yaml, drain_s: [30, 31, 32, 33]}
            hands: {rinse_s: 0, dose_s: 5, swirl_s: 2, lift_s: 3, serve_s: 7, clean_s: 9, travel_s: 1}
            kettle: {full_g: 700, keep_g: 60, refill_s: 12, reheat_s: 50}
            talk:
              - {say: "the farm", from_s: 30, until_s: 50, length_s: 12}
              - {say: "thanks", from_s: 200}
            patience_s: 15
            served_within_s: 40
            left_to_right: false
            spreads: {pour_g: 0.5, start_s: 0.4, flow_pct: 3, drain_pct: 4, chore_pct: 5}
            """);
    assertThat(file.title()).isEqualTo("Heat");
    assertThat(file.spreads()).isEqualTo(new Spreads(0.5, 0.4, 3, 4, 5));
    Routine routine = file.routine();
    assertThat(routine.limitSeconds()).isEqualTo(480);
    assertThat(routine.endBySeconds()).isEqualTo(450);
    assertThat(routine.hands()).isEqualTo(new HandTimes(0, 5, 2, 3, 7, 9, 1));
    assertThat(routine.kettle().usable().grams()).isEqualTo(640);
    assertThat(routine.kettle().reheatSeconds()).isEqualTo(50);
    assertThat(routine.speeches())
        .containsExactly(new Speech("the farm", 30, 50, 12), new Speech("thanks", 200, 230, 10));
    assertThat(routine.patienceSeconds()).isEqualTo(15);
    assertThat(routine.servedWithinSeconds()).isEqualTo(40);
    assertThat(routine.leftToRight()).isFalse();
    assertThat(routine.stations().get(0).drainSeconds()).containsExactly(30, 31, 32, 33);
  }

  static Stream<Arguments> mistakes() {
    String good = "format: 1\nbrewers: [{plan: good.yaml}]\n";
    return Stream.of(
        Arguments.of("", "the file is empty"),
        Arguments.of("- 1", "this is no routine"),
        Arguments.of("format: 2\nbrewers: [{plan: good.yaml}]", "'format' is 2"),
        Arguments.of("format: 1", "has no 'brewers'"),
        Arguments.of("format: 1\nbrewers: []", "0 brewers stand here"),
        Arguments.of("format: 1\nbrewers: [left]", "this is no brewer"),
        Arguments.of("format: 1\nbrewers: [{name: left}]", "has no 'plan'"),
        Arguments.of("format: 1\nbrewers: [{plan: bad.yaml}]", "'bad.yaml' cannot be used"),
        Arguments.of(
            "format: 1\nbrewers: [{plan: good.yaml, drain_s: [1]}]", "1 drain times for 4"),
        Arguments.of(
            "format: 1\nbrewers: [{plan: good.yaml, drain_s: [1, 2, x, 4]}]", "no drain time"),
        Arguments.of(good + "event: gone.yaml", "'gone.yaml' cannot be used"),
        Arguments.of(good + "limit_s: 30\nreserve_s: 30", "the reserve is the whole limit"),
        Arguments.of(good + "hands: {travel_s: 1.5}", "write a whole number"),
        Arguments.of(good + "hands: {lift_s: 0}", "'lift_s' is 0"),
        Arguments.of(good + "hands: {walk_s: 1}", "has no key 'walk_s'"),
        Arguments.of(good + "kettle: {full_g: 50, keep_g: 80}", "gives no water"),
        Arguments.of(good + "talk: [hello]", "this is nothing to say"),
        Arguments.of(good + "talk: [{say: x, from_s: 9, until_s: 3}]", "before it may"),
        Arguments.of(good + "left_to_right: perhaps", "write true or false"),
        Arguments.of(good + "spreads: {pour_g: -1}", "'pour_g' is -1"));
  }

  @ParameterizedTest
  @MethodSource("mistakes")
  void a_mistake_is_refused_with_its_place(String text, String words) {
    StageReading reading = read(text);
    assertThat(reading).isInstanceOf(StageReading.Refused.class);
    List<PlanProblem> problems = ((StageReading.Refused) reading).problems();
    assertThat(problems).extracting(PlanProblem::toString).anyMatch(line -> line.contains(words));
    assertThat(problems).allMatch(problem -> problem.file().equals("routine.yaml"));
  }

  @Test
  void more_than_eight_brewers_are_refused() {
    String text = "format: 1\nbrewers:\n" + "- {plan: good.yaml}\n".repeat(9);
    assertThat(((StageReading.Refused) read(text)).problems().toString()).contains("9 brewers");
  }

  @Test
  void an_event_file_overrides_common_practice_line_by_line() {
    List<String> complaints = new ArrayList<>();
    assertThat(
            StageReader.readEvent(
                "format: 1\nname: finals\nlimit_s: 720\nleast_ml: 130\n",
                "finals.yaml",
                complaints::add))
        .contains(new EventRules("finals", 720, 3, 130, 70));
    assertThat(complaints).isEmpty();
    assertThat(StageReader.readEvent("format: 1\ncups: none\n", "finals.yaml", complaints::add))
        .isEmpty();
    assertThat(StageReader.readEvent("[]", "finals.yaml", complaints::add)).isEmpty();
    assertThat(complaints).hasSize(2).allMatch(complaint -> complaint.startsWith("finals.yaml:"));
  }
}
