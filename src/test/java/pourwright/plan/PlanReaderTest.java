package pourwright.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import pourwright.rig.Rig;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class PlanReaderTest {

  @Test
  void demo_plan_is_read_as_written_without_a_warning() {
    PlanReading reading = PlanReader.read(Plans.demoText(), "regional-heat.yaml");
    assertThat(reading).isInstanceOf(PlanReading.Understood.class);
    PlanReading.Understood understood = (PlanReading.Understood) reading;
    assertThat(understood.warnings()).isEmpty();
    Plan plan = understood.plan();
    assertThat(plan.title()).isEqualTo("Regional heat, lot seven");
    assertThat(plan.dose()).isEqualTo(Mass.ofMilligrams(16_500));
    assertThat(plan.water()).isEqualTo(Mass.ofMilligrams(264_000));
    assertThat(plan.waterTemperatureCelsius()).isEqualTo(OptionalDouble.of(93.5));
    assertThat(plan.targetStrengthPercent()).isEqualTo(OptionalDouble.of(1.38));
    assertThat(plan.rig()).isEqualTo(Rig.WHOLE);
    assertThat(plan.tolerance()).isEqualTo(Tolerance.COMMON);
    assertThat(plan.pours())
        .extracting(PlannedPour::start)
        .containsExactly(
            new Start.AtClock(SessionTime.ZERO),
            new Start.WhenDrained(SessionTime.ofSeconds(48)),
            new Start.AfterEnd(java.time.Duration.ofSeconds(30)),
            new Start.WhenDrained(SessionTime.ofSeconds(130)));
    assertThat(plan.talk())
        .containsExactly(new TalkMark(SessionTime.ofSeconds(20), "where the lot comes from"));
  }

  @Test
  void short_plan_takes_the_name_of_its_file_the_whole_rig_and_common_tolerances() {
    PlanReading reading =
        PlanReader.read(
            "\uFEFF"
                + """
                format: 1
                dose_g: 15
                water_g: 240
                dripper_g: 310.5
                server_g: 280
                tolerance: {mass_g: 1.5}
                pours: [{add_g: 240, flow_g_per_s: 6, start: {at_s: 0}}]
                """,
            "plans\\home/tuesday.yml");
    Plan plan = ((PlanReading.Understood) reading).plan();
    assertThat(plan.title()).isEqualTo("tuesday");
    assertThat(plan.rig()).isEqualTo(Rig.WHOLE);
    assertThat(plan.dripper()).contains(Mass.ofMilligrams(310_500));
    assertThat(plan.server()).contains(Mass.ofMilligrams(280_000));
    assertThat(plan.tolerance())
        .isEqualTo(
            new Tolerance(
                Mass.ofMilligrams(1_500), Tolerance.COMMON.start(), Tolerance.COMMON.flow()));
    assertThat(plan.talk()).isEmpty();
  }

  @Test
  void all_problems_are_told_at_once_in_the_order_of_the_file() {
    assertThat(
            complaints(
                """
                format: 2
                titel: Regional heat
                dose_g: 16,5
                water_g: 264 g
                water_temp_c: 193.5
                rig: hole
                pours:
                  - {add_g: 42, flow_g_per_s: 0, start: {at_s: 0}}
                  - {add_g: -66, flow_g_per_s: 6.0, start: {when: dry, at_s: 48}}
                  - {add_g: 78, start: {after_end_s: 30, at_s: 3}}
                  - {add_g: 78, flow_g_per_s: 6.0, start: {when: drained}}
                  - {add_g: .nan, flow_g_per_s: NaN, start: {}}
                talk:
                  - {at_s: 1:30, say: ""}
                """))
        .containsExactly(
            "p.yaml:1:9: 'format' is 2; this program reads format 1",
            "p.yaml:2:1: the plan has no key 'titel'; did you mean 'title'?",
            "p.yaml:3:9: 'dose_g' is not a number: '16,5'; write the decimal point as a point:"
                + " 16.5",
            "p.yaml:4:10: 'water_g' is not a number: '264 g'; the unit is in the key already,"
                + " write 264",
            "p.yaml:5:15: 'water_temp_c' is 193.5; it must be more than 0 to 100 °C",
            "p.yaml:6:6: there is no rig 'hole'; write whole, server or split",
            "p.yaml:8:31: 'flow_g_per_s' is 0; it must be more than 0 to 100 g/s",
            "p.yaml:9:13: 'add_g' is -66; it must be more than 0 to 10000 g",
            "p.yaml:9:51: a pour cannot wait for 'dry'; write drained",
            "p.yaml:10:5: pour 3 has no 'flow_g_per_s'; add its flow, for example flow_g_per_s:"
                + " 5.0",
            "p.yaml:10:24: pour 3 has two starts; keep one of {at_s: 48}, {after_end_s: 30} or"
                + " {when: drained, at_s: 48}",
            "p.yaml:11:43: pour 4 waits for the bed but has no expected time; add at_s, as in"
                + " {when: drained, at_s: 48}",
            "p.yaml:12:13: 'add_g' is not a number: '.nan'; write one number, more than 0 to 10000"
                + " g",
            "p.yaml:12:33: 'flow_g_per_s' is not a number: 'NaN'; write one number, more than 0 to"
                + " 100 g/s",
            "p.yaml:12:45: pour 5 has no start; write {at_s: 48}, {after_end_s: 30} or {when:"
                + " drained, at_s: 48}",
            "p.yaml:14:12: 'at_s' is not a number: '1:30'; write seconds: 90",
            "p.yaml:14:23: 'say' has no text; write a few words after the colon");
  }

  @Test
  void water_must_be_used_up() {
    assertThat(complaints(Plans.demoText().replace("water_g: 264", "water_g: 260")))
        .containsExactly(
            "p.yaml:4:10: the pours sum to 264 g, 4 g more than the water of 260 g; write water_g:"
                + " 264, or change a pour by the difference");
    assertThat(complaints(Plans.demoText().replace("add_g: 42", "add_g: 41.7")))
        .containsExactly(
            "p.yaml:4:10: the pours sum to 263.7 g, 0.3 g less than the water of 264 g; write"
                + " water_g: 263.7, or change a pour by the difference");
  }

  @Test
  void pours_may_not_overlap() {
    assertThat(complaints(Plans.demoText().replace("at_s: 130", "at_s: 99")))
        .containsExactly(
            "p.yaml:13:43: pour 4 starts at 99.0 s, 3.0 s before pour 3 ends; start it at 102.0 s"
                + " or later");
  }

  @Test
  void pours_closer_than_three_seconds_are_warned_of() {
    assertThat(warnings(Plans.demoText().replace("after_end_s: 30", "after_end_s: 2")))
        .containsExactly(
            "p.yaml:12:43: pour 3 starts only 2.0 s after pour 2 ends; with less than 3 s between"
                + " them the scale shows one pour; leave more, or make them one");
    assertThat(warnings(Plans.demoText().replace("after_end_s: 30", "after_end_s: 3"))).isEmpty();
    assertThat(warnings(Plans.demoText().replace("after_end_s: 30", "after_end_s: 0"))).hasSize(1);
  }

  @Test
  void first_pour_starts_the_clock() {
    assertThat(complaints(Plans.demoText().replace("start: {at_s: 0}", "start: {after_end_s: 0}")))
        .containsExactly(
            "p.yaml:10:43: pour 1 waits for a pour before it; the first pour starts the clock:"
                + " {at_s: 0}");
    assertThat(warnings(Plans.demoText().replace("start: {at_s: 0}", "start: {at_s: 5}")))
        .containsExactly(
            "p.yaml:10:43: pour 1 starts at 5 s; the clock starts with its first water, and will"
                + " start at that time");
  }

  @Test
  void talk_marks_come_in_order_and_while_something_happens() {
    assertThat(complaints(Plans.demoText() + "  - {at_s: 10, say: \"too early\"}\n"))
        .containsExactly(
            "p.yaml:16:12: this talk mark at 10 s comes after one at 20 s; put the marks in order"
                + " of time");
    assertThat(warnings(Plans.demoText() + "  - {at_s: 323.5, say: \"too late\"}\n"))
        .containsExactly(
            "p.yaml:16:12: this talk mark at 323.5 s may come when the run is over; the last pour"
                + " ends at 143.0 s");
    assertThat(warnings(Plans.demoText() + "  - {at_s: 323, say: \"in time\"}\n")).isEmpty();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          dose_g: 16.5          | dose_g: 11.9              | p.yaml:3:9: 'dose_g' is 11.9 g; common is 12 to 30 g | p.yaml:4:10: water to coffee is 1:22.2; common is 1:13 to 1:17
          dose_g: 16.5          | dose_g: 20.5              | p.yaml:4:10: water to coffee is 1:12.9; common is 1:13 to 1:17 |
          water_temp_c: 93.5    | water_temp_c: 96.5        | p.yaml:5:15: 'water_temp_c' is 96.5 °C; common is 88 to 96 °C |
          water_temp_c: 93.5    | water_temp_c: 87          | p.yaml:5:15: 'water_temp_c' is 87 °C; common is 88 to 96 °C |
          strength_pct: 1.38    | strength_pct: 1.55        | p.yaml:6:22: 'target_strength_pct' is 1.55 %; common is 1.2 to 1.5 % |
          flow_g_per_s: 5.0     | flow_g_per_s: 0.9         | p.yaml:10:31: pour 1 flows at 0.9 g/s; a hand with a kettle pours 1 to 15 g/s |
          flow_g_per_s: 5.0     | flow_g_per_s: 15.5        | p.yaml:10:31: pour 1 flows at 15.5 g/s; a hand with a kettle pours 1 to 15 g/s |
          """)
  void unusual_values_are_warned_of(String from, String to, String first, String second) {
    String text =
        Plans.demoText().replace(from, to).replace("drained, at_s: 48", "drained, at_s: 50");
    assertThat(warnings(text))
        .containsExactlyElementsOf(second == null ? List.of(first) : List.of(first, second));
  }

  @ParameterizedTest
  @CsvSource({
    "dose_g: 16.5, dose_g: 12",
    "dose_g: 16.5, dose_g: 30",
    "water_temp_c: 93.5, water_temp_c: 88",
    "water_temp_c: 93.5, water_temp_c: 96",
    "strength_pct: 1.38, strength_pct: 1.2",
    "strength_pct: 1.38, strength_pct: 1.5",
    "flow_g_per_s: 5.0, flow_g_per_s: 1",
    "flow_g_per_s: 5.0, flow_g_per_s: 15"
  })
  void edges_of_common_practice_are_common(String from, String to) {
    assertThat(warnings(Plans.demoText().replace(from, to)))
        .noneMatch(
            line ->
                line.contains("'dose_g'")
                    || line.contains("_c'")
                    || line.contains("_pct")
                    || line.contains("flows at"));
  }

  @Test
  void missing_keys_are_named_with_an_example() {
    assertThat(complaints("title: nothing else\n"))
        .containsExactly(
            "p.yaml:1:1: the plan has no 'format'; add 'format: 1' as the first line",
            "p.yaml:1:1: the plan has no 'dose_g'; add the dry coffee, for example dose_g: 16.5",
            "p.yaml:1:1: the plan has no 'water_g'; add all water of all pours, for example"
                + " water_g: 264",
            "p.yaml:1:1: the plan has no 'pours'; add at least one line like '- {add_g: 42,"
                + " flow_g_per_s: 5.0, start: {at_s: 0}}'");
  }

  @Test
  void missing_keys_of_pours_and_talk_marks_are_named_too() {
    assertThat(
            complaints(
                """
                format: 1
                dose_g: 15
                water_g: 240
                pours: [{}]
                talk: [{}]
                """))
        .containsExactly(
            "p.yaml:4:9: pour 1 has no 'add_g'; add its water, for example add_g: 42",
            "p.yaml:4:9: pour 1 has no 'flow_g_per_s'; add its flow, for example flow_g_per_s: 5.0",
            "p.yaml:4:9: pour 1 has no 'start'; add when it starts: {at_s: 48}, {after_end_s: 30}"
                + " or {when: drained, at_s: 48}",
            "p.yaml:5:8: this talk mark has no 'at_s'; add its time, for example at_s: 20",
            "p.yaml:5:8: this talk mark has no 'say'; add what to say, for example say: \"where the"
                + " lot comes from\"");
  }

  @Test
  void key_that_stands_twice_is_refused_with_both_places() {
    assertThat(complaints(Plans.demoText() + "dose_g: 17\n"))
        .containsExactly(
            "p.yaml:16:1: 'dose_g' stands here a second time; keep one of the two; the first is in"
                + " line 3");
  }

  @Test
  void wrong_kinds_of_values_are_refused() {
    assertThat(
            complaints(
                """
                format: 1
                title: [a, b]
                dose_g: {}
                water_g: 1e999999999
                target_strength_pct: 0.00000000000000000000000000001
                tolerance: 2
                pours: 3
                talk: now
                ? [odd, key]
                : 1
                """))
        .containsExactly(
            "p.yaml:2:8: 'title' has no text; write a few words after the colon",
            "p.yaml:3:9: 'dose_g' is not a number; write one number, more than 0 to 10000 g",
            "p.yaml:4:10: 'water_g' is not a number: '1e999999999'; write one number, more than 0"
                + " to 10000 g",
            "p.yaml:5:22: 'target_strength_pct' is not a number:"
                + " '0.00000000000000000000000000001'; write one number, more than 0 to 100 %",
            "p.yaml:6:12: 'tolerance' is not a set of keys; write {mass_g: 2.0, start_s: 2.0,"
                + " flow_g_per_s: 1.0}",
            "p.yaml:7:8: 'pours' is not a list; write lines like '- {add_g: 42, flow_g_per_s: 5.0,"
                + " start: {at_s: 0}}'",
            "p.yaml:8:7: 'talk' is not a list; write lines like '- {at_s: 20, say: \"where the lot"
                + " comes from\"}'",
            "p.yaml:9:3: the plan has no key ''; the keys are format, title, dose_g, water_g,"
                + " water_temp_c, target_strength_pct, rig, dripper_g, server_g, tolerance, pours,"
                + " talk");
    assertThat(
            complaints(
                """
                format: 1
                title: null
                dose_g: 15
                water_g: 240
                pours: [42, {add_g: 42, flow_g_per_s: 5, start: 0}]
                talk: [hello]
                """))
        .containsExactly(
            "p.yaml:2:8: 'title' has no text; write a few words after the colon",
            "p.yaml:5:9: pour 1 is not a set of keys; write '- {add_g: 42, flow_g_per_s: 5.0,"
                + " start: {at_s: 0}}'",
            "p.yaml:5:49: 'start' is not a set of keys; write {at_s: 48}, {after_end_s: 30} or"
                + " {when: drained, at_s: 48}",
            "p.yaml:6:8: this talk mark is not a set of keys; write '- {at_s: 20, say: \"where the"
                + " lot comes from\"}'");
  }

  @Test
  void plan_without_pours_is_no_plan() {
    assertThat(complaints("format: 1\ndose_g: 15\nwater_g: 240\npours: []\n"))
        .containsExactly(
            "p.yaml:4:8: the plan has no pour; write lines like '- {add_g: 42, flow_g_per_s: 5.0,"
                + " start: {at_s: 0}}'");
  }

  @Test
  void what_is_no_plan_at_all_is_refused() {
    assertThat(complaints(""))
        .containsExactly("p.yaml:1:1: the file is empty; a plan begins with 'format: 1'");
    assertThat(complaints("# nothing\n"))
        .containsExactly("p.yaml:1:1: the file is empty; a plan begins with 'format: 1'");
    assertThat(complaints("just words"))
        .containsExactly("p.yaml:1:1: this is no plan; a plan begins with 'format: 1'");
    assertThat(complaints("format: 1\n\tdose_g: 3\n"))
        .singleElement()
        .asString()
        .startsWith("p.yaml:2:1: not readable as YAML: found character '\\t(TAB)'")
        .endsWith("look at indents, colons, brackets and quotes here (blanks only, no tabs)");
    assertThat(complaints("pours: [{add_g: 3\n"))
        .singleElement()
        .asString()
        .startsWith("p.yaml:2:1: not readable as YAML: ");
    assertThat(complaints("a\u0000b"))
        .containsExactly(
            "p.yaml:1:1: the file holds characters that are no text; save the plan as plain text"
                + " in UTF-8");
  }

  @Test
  void what_could_loop_or_blow_up_is_refused_before_it_is_built() {
    assertThat(complaints("a: &x [1]\nb: *x\n"))
        .containsExactly("p.yaml:1:4: references (& and *) are not allowed; write the value out");
    assertThat(complaints("a: *x\n"))
        .containsExactly("p.yaml:1:4: references (& and *) are not allowed; write the value out");
    assertThat(complaints("a: " + "[".repeat(60_000)))
        .containsExactly(
            "p.yaml:1:11: brackets or indents are nested deeper than 8; a plan needs four levels");
    assertThat(complaints("format: 1\n---\nformat: 1\n"))
        .containsExactly("p.yaml:2:1: a second document begins here; keep one plan per file");
    assertThat(complaints("#".repeat(65_537)))
        .containsExactly(
            "p.yaml:1:1: the file has 65537 characters; a plan needs a few hundred and may have"
                + " 65536");
    assertThat(complaints("#".repeat(65_536))).singleElement().asString().contains("empty");
  }

  @ParameterizedTest
  @CsvSource({
    "titel, title", "Dose_G, dose_g", "dose-g, dose_g", "water temp c, water_temp_c",
    "tolerances, tolerance", "pour, pours", "target_strength, target_strength_pct", "rigg, rig",
    "dos, dose_g"
  })
  void mistyped_key_is_answered_with_the_nearest(String typed, String meant) {
    assertThat(complaints(Plans.demoText() + typed + ": 1\n"))
        .containsExactly(
            "p.yaml:16:1: the plan has no key '" + typed + "'; did you mean '" + meant + "'?");
  }

  @ParameterizedTest
  @CsvSource({"colour", "x", "a-very-long-key-that-nobody-would-ever-write-in-a-plan-of-pours"})
  void key_like_no_other_is_answered_with_all_keys(String typed) {
    assertThat(complaints(Plans.demoText() + typed + ": 1\n"))
        .singleElement()
        .asString()
        .contains("the keys are format, title");
  }

  @Test
  void foreign_locale_changes_nothing() {
    Locale before = Locale.getDefault();
    try {
      Locale.setDefault(Locale.GERMANY);
      assertThat(complaints(Plans.demoText().replace("at_s: 130", "at_s: 99")))
          .singleElement()
          .asString()
          .contains("99.0 s");
    } finally {
      Locale.setDefault(before);
    }
  }

  static LongStream seeds() {
    return LongStream.range(0, 200);
  }

  /** Property: whatever is done to the text, the answer is a plan or a list of complaints. */
  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void broken_text_never_throws_and_every_complaint_has_a_place_in_it(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    StringBuilder text = new StringBuilder(Plans.demoText());
    String ink = " :{}[],-#&*!|>'\"%@`\n\t0.5eEx~?\u00e4\u2028";
    for (int i = random.nextInt(1, 12); i > 0; i--) {
      int at = random.nextInt(text.length());
      char put = ink.charAt(random.nextInt(ink.length()));
      switch (random.nextInt(3)) {
        case 0 -> text.insert(at, put);
        case 1 -> text.setCharAt(at, put);
        default -> text.delete(at, Math.min(text.length(), at + random.nextInt(1, 6)));
      }
    }
    PlanReading reading = PlanReader.read(text.toString(), "p.yaml");
    if (reading instanceof PlanReading.Refused refused) {
      assertThat(refused.problems())
          .isNotEmpty()
          .anyMatch(problem -> problem.severity() == PlanProblem.Severity.ERROR)
          .allSatisfy(
              problem -> {
                assertThat(problem.line()).isPositive();
                assertThat(problem.column()).isPositive();
              });
    } else {
      Plan plan = ((PlanReading.Understood) reading).plan();
      assertThat(Plans.read(PlanWriter.write(plan))).isEqualTo(plan);
    }
  }

  private static List<String> complaints(String text) {
    PlanReading reading = PlanReader.read(text, "p.yaml");
    assertThat(reading).isInstanceOf(PlanReading.Refused.class);
    return ((PlanReading.Refused) reading).problems().stream().map(Object::toString).toList();
  }

  private static List<String> warnings(String text) {
    PlanReading reading = PlanReader.read(text, "p.yaml");
    assertThat(reading).isInstanceOf(PlanReading.Understood.class);
    return ((PlanReading.Understood) reading).warnings().stream().map(Object::toString).toList();
  }
}
