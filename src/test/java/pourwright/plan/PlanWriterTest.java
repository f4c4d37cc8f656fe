package pourwright.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class PlanWriterTest {

  @Test
  void demo_plan_is_written_as_a_person_lays_it_out() {
    assertThat(PlanWriter.write(Plans.demo()))
        .isEqualTo(
            """
            format: 1
            title: Regional heat, lot seven
            dose_g: 16.5
            water_g: 264
            water_temp_c: 93.5
            target_strength_pct: 1.38
            rig: whole
            tolerance: {mass_g: 2, start_s: 2, flow_g_per_s: 1}
            pours:
              - {add_g: 42, flow_g_per_s: 5, start: {at_s: 0}}
              - {add_g: 66, flow_g_per_s: 6, start: {when: drained, at_s: 48}}
              - {add_g: 78, flow_g_per_s: 6, start: {after_end_s: 30}}
              - {add_g: 78, flow_g_per_s: 6, start: {when: drained, at_s: 130}}
            talk:
              - {at_s: 20, say: "where the lot comes from"}
            """);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "true",
        "No",
        "null",
        "1234",
        "- dash",
        "with: colon",
        "with #hash",
        "quote \" and \\ back",
        "line\nbreak\ttab\u0085next\u2028sep\uFEFFbom",
        "Äthiopien, Lot 7 – größer als 中文 ☕ \uD83C\uDF3F",
        "\u007F\u0001",
        "{curly}",
        "trailing blank ",
        "x"
      })
  void any_title_and_any_words_survive(String text) {
    Plan demo = Plans.demo();
    Plan plan = with(demo, text, List.of(new TalkMark(SessionTime.ofSeconds(3), text)));
    assertThat(Plans.read(PlanWriter.write(plan))).isEqualTo(plan);
  }

  static LongStream seeds() {
    return LongStream.range(0, 60);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void reading_back_gives_the_same_plan(long seed) {
    Plan plan = random(new SplittableRandom(seed));
    String text = PlanWriter.write(plan);
    assertThat(Plans.read(text)).isEqualTo(plan);
    assertThat(PlanWriter.write(Plans.read(text))).isEqualTo(text);
  }

  private static Plan random(SplittableRandom random) {
    List<PlannedPour> pours = new ArrayList<>();
    Mass water = Mass.ZERO;
    SessionTime clock = SessionTime.ZERO;
    int count = random.nextInt(1, 9);
    for (int i = 1; i <= count; i++) {
      Duration gap = Duration.ofNanos(random.nextLong(3_000_000_000L, 60_000_000_000L));
      SessionTime start = i == 1 ? clock : clock.plus(gap);
      Start when =
          switch (i == 1 ? 0 : random.nextInt(3)) {
            case 0 -> new Start.AtClock(start);
            case 1 -> new Start.AfterEnd(gap);
            default -> new Start.WhenDrained(start);
          };
      PlannedPour pour =
          new PlannedPour(
              i,
              new Mass(random.nextLong(1, 200_000_000_000L)),
              new Flow(random.nextLong(1_000_000_000L, 15_000_000_000L)),
              when);
      pours.add(pour);
      water = water.plus(pour.add());
      clock = start.plus(pour.length());
    }
    List<TalkMark> talk = new ArrayList<>();
    for (int i = random.nextInt(3); i > 0; i--) {
      talk.add(new TalkMark(SessionTime.ofMillis(100_000L - 1_000L * i), "mark " + i));
    }
    return new Plan(
        "Plan " + random.nextInt(100),
        new Mass(random.nextLong(1, 40_000_000_000L)),
        water,
        random.nextBoolean()
            ? OptionalDouble.empty()
            : OptionalDouble.of(random.nextInt(900) / 10.0 + 1),
        random.nextBoolean()
            ? OptionalDouble.empty()
            : OptionalDouble.of(random.nextInt(1, 200) / 100.0),
        List.of(Rig.values()).get(random.nextInt(3)),
        random.nextBoolean() ? Optional.empty() : Optional.of(Mass.ofMilligrams(310_500)),
        random.nextBoolean() ? Optional.empty() : Optional.of(Mass.ofMilligrams(280_250)),
        new Tolerance(
            Mass.ofMilligrams(random.nextLong(1, 5_000)),
            Duration.ofMillis(random.nextLong(1, 5_000)),
            new Flow(random.nextLong(1, 5_000_000_000L))),
        pours,
        talk);
  }

  private static Plan with(Plan plan, String title, List<TalkMark> talk) {
    return new Plan(
        title,
        plan.dose(),
        plan.water(),
        plan.waterTemperatureCelsius(),
        plan.targetStrengthPercent(),
        plan.rig(),
        plan.dripper(),
        plan.server(),
        plan.tolerance(),
        plan.pours(),
        talk);
  }
}
