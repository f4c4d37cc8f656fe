package pourwright.forecast;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import pourwright.bed.Bed;
import pourwright.bed.Drainage;
import pourwright.bed.FallingHead;
import pourwright.bed.PackedBed;
import pourwright.bed.Poured;
import pourwright.bed.Shape;
import pourwright.forecast.Trouble.Kind;
import pourwright.kettle.Deed;
import pourwright.kettle.Kettle;
import pourwright.kettle.Room;
import pourwright.plan.Plan;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;
import pourwright.water.Water;

class ForecastTest {
  private static final Mass DOSE = Mass.ofGrams(20);
  private static final double OPEN = 6e-11;
  private static final double FALL = -0.1;
  private static final Pattern ADDED = Pattern.compile("add_g: ([0-9.]+)");

  private static Plan plan(double doseGrams, String... pours) {
    double water =
        ADDED
            .matcher(String.join("", pours))
            .results()
            .mapToDouble(match -> Double.parseDouble(match.group(1)))
            .sum();
    String text =
        "format: 1\ntitle: trial\ndose_g: "
            + doseGrams
            + "\nwater_g: "
            + water
            + "\nwater_temp_c: 93\ntarget_strength_pct: 1.4\npours:\n"
            + String.join("\n", pours)
            + "\n";
    PlanReading reading = PlanReader.read(text, "trial");
    assertThat(reading).as(reading.toString()).isInstanceOf(PlanReading.Understood.class);
    return ((PlanReading.Understood) reading).plan();
  }

  private static String pour(double grams, double flow, String start) {
    return "  - {add_g: " + grams + ", flow_g_per_s: " + flow + ", start: {" + start + "}}";
  }

  private static final Plan FIVE =
      plan(
          20,
          pour(50, 6, "at_s: 0"),
          pour(70, 6, "at_s: 45"),
          pour(60, 6, "at_s: 90"),
          pour(60, 6, "at_s: 135"),
          pour(60, 6, "at_s: 180"));

  private static Bed bed(Dripper dripper) {
    return Bed.ofDose(dripper.shape(), DOSE);
  }

  /** Runs through a known bed, watched on a split rig. */
  private static List<PastRun> runs(int count, double chance, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    List<PastRun> runs = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      List<Poured> pours = List.of(poured(0, 9, 50), poured(90, 101, 70), poured(200, 210, 60));
      double[] open = new double[pours.size()];
      for (int p = 0; p < open.length; p++) {
        open[p] = OPEN * Math.exp(FALL * p + chance * random.nextGaussian());
      }
      Drainage drainage =
          Drainage.of(bed(Dripper.CONE), pour -> open[pour - 1], Water.atCelsius(88), pours);
      runs.add(
          new PastRun(
              DOSE,
              OptionalDouble.of(93),
              pours,
              drainage.listDrained(),
              List.of(true, true, true),
              Optional.of(Mass.ofGrams(180 - 20 * (2.1 + 0.05 * random.nextGaussian()))),
              i % 2 == 0 ? OptionalDouble.of(1.5) : OptionalDouble.empty()));
    }
    return runs;
  }

  private static Poured poured(double start, double end, double grams) {
    return new Poured(
        SessionTime.ofSeconds(start), SessionTime.ofSeconds(end), Mass.ofGrams(grams));
  }

  private static List<Kind> kinds(Forecast forecast) {
    return forecast.troubles().stream().map(Trouble::kind).toList();
  }

  private static Trouble trouble(Forecast forecast, Kind kind) {
    return forecast.troubles().stream()
        .filter(trouble -> trouble.kind() == kind)
        .findFirst()
        .orElseThrow(() -> new AssertionError(kind + " not in " + forecast.troubles()));
  }

  @Test
  void a_flat_bed_drains_by_the_closed_form() {
    // one second of pouring is nearly at once; the rest is the textbook's falling head
    Plan plan = plan(20, pour(60, 60, "at_s: 0"));
    Kit kit = new Kit(Dripper.FLAT, Kettle.USUAL, Room.USUAL, Filling.USUAL, Limits.USUAL);
    Experience slow = learned(kit.dripper(), 2e-12);
    Forecast forecast = Forecast.of(plan, kit, slow);

    Shape.FlatBottom shape = (Shape.FlatBottom) kit.dripper().shape();
    double bedMetres = shape.depthMetres(bed(kit.dripper()).millilitres());
    Water water = Water.atCelsius(88);
    double surface = bedMetres + shape.depthMetres(water.millilitres(Mass.ofGrams(60)));
    double conductivity = PackedBed.conductivity(slow.bed().orElseThrow().squareMetres(1), water);
    double expected =
        FallingHead.ofVessel(Math.PI * 0.0375 * 0.0375, bedMetres)
            .seconds(surface, bedMetres, conductivity);
    double drained = forecast.pours().get(0).drained().orElseThrow().expected().seconds();
    assertThat(drained - 0.5).isCloseTo(expected, within(0.01 * expected));
  }

  private static Experience learned(Dripper dripper, double open) {
    List<Poured> pours = List.of(poured(0, 5, 60));
    return Experience.of(
        dripper,
        DOSE,
        List.of(
            new PastRun(
                DOSE,
                OptionalDouble.of(93),
                pours,
                Drainage.of(bed(dripper), pour -> open, Water.atCelsius(88), pours).listDrained(),
                List.of(true),
                Optional.empty(),
                OptionalDouble.empty())));
  }

  @Test
  void drain_times_learned_from_runs_come_again() {
    List<PastRun> past = runs(6, 0, 1);
    Experience experience = Experience.of(Dripper.CONE, DOSE, past);
    Plan same =
        plan(
            20,
            pour(50, 50.0 / 9, "at_s: 0"),
            pour(70, 70.0 / 11, "at_s: 90"),
            pour(60, 6, "at_s: 200"));

    Forecast forecast = Forecast.of(same, Kit.USUAL, experience);

    assertThat(forecast.isLearned()).isTrue();
    for (int i = 0; i < 3; i++) {
      double was = past.get(0).drained().get(i).orElseThrow().seconds();
      Forecast.Span span = forecast.pours().get(i).drained().orElseThrow();
      assertThat(span.expected().seconds()).isCloseTo(was, within(0.5));
      assertThat(span.early().seconds()).isBetween(was - 15, was);
      assertThat(span.late().seconds()).isBetween(was, was + 15);
    }
  }

  /** Two thirds within one standard uncertainty. */
  @Test
  void the_uncertainty_of_a_drain_time_is_what_it_says() {
    Plan same =
        plan(
            20,
            pour(50, 50.0 / 9, "at_s: 0"),
            pour(70, 70.0 / 11, "at_s: 90"),
            pour(60, 6, "at_s: 200"));
    int inside = 0;
    int trials = 40;
    for (int trial = 0; trial < trials; trial++) {
      Experience experience = Experience.of(Dripper.CONE, DOSE, runs(5, 0.12, 100 + trial));
      PastRun next = runs(1, 0.12, 9_000 + trial).get(0);
      Forecast.Span span =
          Forecast.of(same, Kit.USUAL, experience).pours().get(0).drained().orElseThrow();
      SessionTime was = next.drained().get(0).orElseThrow();
      if (!was.isBefore(span.early()) && !was.isAfter(span.late())) {
        inside++;
      }
    }
    // 68 % of 40 are 27, standard deviation 3
    assertThat(inside).isBetween(20, 36);
  }

  /** Another physics than the fitted one, seen through the detector; see {@link DrainErrors}. */
  @Test
  void later_runs_of_a_simulated_brewer_drain_as_foreseen_from_the_first_ones() {
    List<DrainErrors.Score> scores = DrainErrors.scores(DrainErrors.patient(), 4, 8, 40);
    assertThat(scores).extracting(DrainErrors.Score::pour).containsExactly(1, 2, 3, 4);
    for (DrainErrors.Score score : scores.subList(1, 4)) {
      assertThat(score.rootMeanSquareSeconds()).as("%s", score).isLessThan(3);
      assertThat(score.inTwo()).as("%s", score).isGreaterThan(0.7);
    }
  }

  @Test
  void before_any_run_it_is_a_wide_guess() {
    Forecast forecast = Forecast.of(plan(20, pour(50, 6, "at_s: 0")), Kit.USUAL, Experience.NONE);

    assertThat(forecast.isLearned()).isFalse();
    Forecast.Span first = forecast.pours().get(0).drained().orElseThrow();
    double length = first.expected().seconds();
    assertThat(length).isBetween(32.0, 44.0);
    assertThat(first.early().seconds()).isLessThan(0.8 * length);
    assertThat(first.late().seconds()).isGreaterThan(1.3 * length);
  }

  /** Batali et al. 2020 and every textbook: dissolved mass is strength times beverage. */
  @Test
  void beverage_and_extraction_by_the_balance_of_mass() {
    Plan plan = plan(15, pour(250, 6, "at_s: 0"));
    Forecast forecast = Forecast.of(plan, Kit.USUAL, Experience.NONE);

    assertThat(forecast.beverageGrams().value()).isCloseTo(220, within(1e-9));
    assertThat(forecast.beverageGrams().uncertainty()).isCloseTo(4.5, within(1e-9));
    // 1.40 % of 220 g out of 15 g
    assertThat(forecast.extractionPercent().orElseThrow().value()).isCloseTo(20.5333, within(1e-3));
    assertThat(forecast.strengthPercent()).isEmpty();
  }

  @Test
  void past_strengths_say_what_strength_to_expect() {
    Experience experience = Experience.of(Dripper.CONE, DOSE, runs(8, 0.05, 3));
    assertThat(experience.keptPerGram().value()).isCloseTo(2.1, within(0.06));
    Estimate extraction = experience.extractionPercent().orElseThrow();
    // 1.5 % of 138 g out of 20 g
    assertThat(extraction.value()).isCloseTo(10.35, within(0.1));

    Forecast forecast = Forecast.of(FIVE, Kit.USUAL, experience);
    Estimate strength = forecast.strengthPercent().orElseThrow();
    assertThat(strength.value())
        .isCloseTo(extraction.value() * 20 / forecast.beverageGrams().value(), within(1e-9));
    assertThat(strength.uncertainty()).isBetween(0.001, 0.05);
  }

  @Test
  void few_runs_lend_their_mean_but_not_their_spread() {
    Estimate usual = new Estimate(2, 0.3);
    assertThat(Estimate.ofSeen(List.of(), usual)).isEqualTo(usual);
    assertThat(Estimate.ofSeen(List.of(1.8, 1.8), usual)).isEqualTo(new Estimate(1.8, 0.3));
    Estimate three = Estimate.ofSeen(List.of(1.0, 2.0, 3.0), usual);
    assertThat(three.value()).isEqualTo(2);
    assertThat(three.uncertainty()).isCloseTo(Math.sqrt(4.0 / 3), within(1e-12));
    assertThatThrownBy(() -> new Estimate(Double.NaN, 1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Estimate(1, -1)).isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void water_in_all_is_what_is_poured_kept_back_rinsed_and_lost() {
    Forecast forecast = Forecast.of(FIVE, Kit.USUAL, Experience.NONE);
    assertThat(forecast.water().total().grams()).isBetween(460.0, 461.0);
    assertThat(forecast.water().evaporated().grams()).isBetween(0.05, 1.0);
  }

  @Test
  void a_usual_brew_has_nothing_in_its_way() {
    Plan patient =
        plan(
            20,
            pour(50, 6, "at_s: 0"),
            pour(70, 6, "at_s: 45"),
            pour(60, 6, "at_s: 100"),
            pour(60, 6, "at_s: 150"));
    Filling warm =
        new Filling(Mass.ofGrams(600), Mass.ofGrams(100), Mass.ofGrams(60), true, List.of());
    Kit kit = new Kit(Dripper.CONE, Kettle.USUAL, Room.USUAL, warm, Limits.USUAL);
    assertThat(Forecast.of(patient, kit, Experience.NONE).troubles()).isEmpty();
  }

  @Test
  void a_pour_over_the_rim_is_told_with_what_to_pour_less() {
    Plan large = plan(20, pour(50, 6, "at_s: 0"), pour(320, 12, "at_s: 45"));
    Kit kit = Kit.USUAL;
    Forecast before = Forecast.of(large, kit, Experience.NONE);
    Trouble over = trouble(before, Kind.OVERFLOW);
    assertThat(over.pour()).isEqualTo(2);
    assertThat(over.says()).contains("over the rim");

    double less = 320 - Double.parseDouble(over.fix().split(" ", -1)[1]);
    assertThat(320 - less).isBetween(over.by(), 1.6 * over.by());
    Plan smaller = plan(20, pour(50, 6, "at_s: 0"), pour(less, 12, "at_s: 45"));
    assertThat(kinds(Forecast.of(smaller, kit, Experience.NONE))).doesNotContain(Kind.OVERFLOW);
    Trouble first =
        trouble(
            Forecast.of(plan(20, pour(350, 12, "at_s: 0")), kit, Experience.NONE), Kind.OVERFLOW);
    assertThat(first.fix()).contains("larger dripper");
  }

  @Test
  void a_flow_beyond_kettle_or_hand_is_told_with_a_flow_that_is_not() {
    Plan fast = plan(20, pour(60, 14, "at_s: 0"));
    Trouble kettle = trouble(Forecast.of(fast, Kit.USUAL, Experience.NONE), Kind.KETTLE_FLOW);
    assertThat(kettle.by()).isCloseTo(2, within(1e-9));
    assertThat(kettle.fix()).isEqualTo("plan 12.0 g/s; it takes 1 s longer");

    Experience experience = Experience.of(Dripper.CONE, DOSE, runs(4, 0, 1));
    assertThat(experience.hand().orElseThrow().pours()).isEqualTo(12);
    assertThat(Experience.of(Dripper.CONE, DOSE, runs(3, 0, 1)).hand()).isEmpty();
    Trouble hand =
        trouble(
            Forecast.of(plan(20, pour(60, 8, "at_s: 0")), Kit.USUAL, experience), Kind.HAND_FLOW);
    assertThat(hand.by()).isCloseTo(8 - 70.0 / 11, within(1e-6));
    assertThat(hand.says()).contains("faster than any of your 12 pours");
    Trouble slow =
        trouble(
            Forecast.of(plan(20, pour(60, 3, "at_s: 0")), Kit.USUAL, experience), Kind.HAND_FLOW);
    assertThat(slow.says()).contains("slower than any of your 12 pours");
    assertThat(kinds(Forecast.of(plan(20, pour(60, 6, "at_s: 0")), Kit.USUAL, experience)))
        .doesNotContain(Kind.HAND_FLOW);
  }

  @Test
  void a_start_before_the_bed_is_dry_is_told_with_the_start_that_is_not() {
    Plan hasty = plan(20, pour(60, 6, "at_s: 0"), pour(60, 6, "at_s: 20"));
    Trouble early = trouble(Forecast.of(hasty, Kit.USUAL, Experience.NONE), Kind.BEFORE_DRAINED);
    assertThat(early.pour()).isEqualTo(2);
    assertThat(early.by()).isCloseTo(25, within(3.0));
    assertThat(early.fix()).startsWith("start it at ");

    Plan gap = plan(20, pour(60, 6, "at_s: 0"), pour(60, 6, "after_end_s: 10"));
    assertThat(trouble(Forecast.of(gap, Kit.USUAL, Experience.NONE), Kind.BEFORE_DRAINED).fix())
        .startsWith("leave a gap of ");
    Plan patient = plan(20, pour(60, 6, "at_s: 0"), pour(60, 6, "at_s: 60"));
    assertThat(kinds(Forecast.of(patient, Kit.USUAL, Experience.NONE)))
        .doesNotContain(Kind.BEFORE_DRAINED);
  }

  @Test
  void a_pour_that_waits_for_the_bed_starts_when_it_is_dry() {
    Experience sure = Experience.of(Dripper.CONE, DOSE, runs(12, 0.02, 5));
    Plan waits = plan(20, pour(50, 6, "at_s: 0"), pour(70, 6, "when: drained, at_s: 20"));
    Forecast forecast = Forecast.of(waits, Kit.USUAL, sure);
    SessionTime dry = forecast.pours().get(0).drained().orElseThrow().expected();
    assertThat(forecast.pours().get(1).poured().start()).isEqualTo(dry);
    Trouble later = trouble(forecast, Kind.DRAINED_OTHERWISE);
    assertThat(later.by()).isCloseTo(dry.seconds() - 20, within(1e-6));
    assertThat(later.says()).contains("later than planned");
    assertThat(later.fix()).isEqualTo("write at_s: " + Math.round(dry.seconds()));

    Plan lazy = plan(20, pour(50, 6, "at_s: 0"), pour(70, 6, "when: drained, at_s: 120"));
    assertThat(trouble(Forecast.of(lazy, Kit.USUAL, sure), Kind.DRAINED_OTHERWISE).says())
        .contains("sooner than planned");
    Plan right =
        plan(
            20,
            pour(50, 6, "at_s: 0"),
            pour(70, 6, "when: drained, at_s: " + Math.round(dry.seconds())));
    assertThat(kinds(Forecast.of(right, Kit.USUAL, sure))).doesNotContain(Kind.DRAINED_OTHERWISE);
  }

  @Test
  void a_clock_that_an_overlong_pour_has_passed_does_not_go_back() {
    Plan overlong =
        plan(
            20,
            pour(60, 6, "at_s: 0"),
            pour(60, 6, "when: drained, at_s: 12"),
            pour(60, 6, "at_s: 25"));
    Forecast forecast = Forecast.of(overlong, Kit.USUAL, Experience.NONE);
    assertThat(forecast.pours().get(2).poured().start())
        .isEqualTo(forecast.pours().get(1).poured().end());
  }

  @Test
  void a_brew_over_its_time_is_told_with_the_grind_that_keeps_it() {
    Limits three = new Limits(Flow.ofGramsPerSecond(12), Duration.ofSeconds(205), 3);
    Kit kit = new Kit(Dripper.CONE, Kettle.USUAL, Room.USUAL, Filling.USUAL, three);
    Trouble over = trouble(Forecast.of(FIVE, kit, Experience.NONE), Kind.OVER_TIME);
    assertThat(over.pour()).isEqualTo(5);
    assertThat(over.fix()).contains("% faster");

    Limits two = new Limits(Flow.ofGramsPerSecond(12), Duration.ofMinutes(2), 3);
    Kit hurried = new Kit(Dripper.CONE, Kettle.USUAL, Room.USUAL, Filling.USUAL, two);
    Trouble never = trouble(Forecast.of(FIVE, hurried, Experience.NONE), Kind.OVER_TIME);
    assertThat(never.pour()).isEqualTo(4);
    assertThat(never.fix()).contains("sooner");
  }

  @Test
  void a_kettle_too_small_short_or_cool_is_told_with_what_to_do() {
    Kit little = kit(250, Kettle.USUAL, false, List.of());
    Trouble shortage = trouble(Forecast.of(FIVE, little, Experience.NONE), Kind.KETTLE_SHORT);
    assertThat(shortage.pour()).isEqualTo(5);
    assertThat(shortage.by()).isCloseTo(50, within(0.5));
    assertThat(shortage.fix()).isEqualTo("fill it with 301 g for the whole brew");
    assertThat(kinds(Forecast.of(FIVE, kit(301, Kettle.USUAL, true, List.of()), Experience.NONE)))
        .doesNotContain(Kind.KETTLE_SHORT);

    Kettle small = new Kettle(Mass.ofGrams(260), 250, 0.6, 4e-4, 1_000);
    assertThat(
            trouble(
                    Forecast.of(FIVE, kit(250, small, false, List.of()), Experience.NONE),
                    Kind.KETTLE_SHORT)
                .fix())
        .isEqualTo("refill 51 g before it");
    Deed.Refill refill = new Deed.Refill(SessionTime.ofSeconds(160), Mass.ofGrams(51), 95);
    assertThat(kinds(Forecast.of(FIVE, kit(250, small, false, List.of(refill)), Experience.NONE)))
        .doesNotContain(Kind.KETTLE_SHORT);
    assertThat(
            trouble(
                    Forecast.of(FIVE, kit(350, small, true, List.of()), Experience.NONE),
                    Kind.KETTLE_OVERFULL)
                .by())
        .isCloseTo(90, within(1e-9));

    Kettle leaky = new Kettle(Mass.ofGrams(900), 250, 3, 4e-4, 1_000);
    Trouble cool =
        trouble(
            Forecast.of(FIVE, kit(450, leaky, false, List.of()), Experience.NONE),
            Kind.KETTLE_COOL);
    assertThat(cool.pour()).isGreaterThan(1);
    assertThat(cool.fix()).startsWith("set it on its base for ");
    assertThat(kinds(Forecast.of(FIVE, kit(450, leaky, true, List.of()), Experience.NONE)))
        .doesNotContain(Kind.KETTLE_COOL);
    Kettle stove = new Kettle(Mass.ofGrams(900), 250, 3, 4e-4, 0);
    assertThat(
            trouble(
                    Forecast.of(FIVE, kit(450, stove, false, List.of()), Experience.NONE),
                    Kind.KETTLE_COOL)
                .fix())
        .startsWith("start with a fuller kettle");
  }

  private static Kit kit(double fill, Kettle kettle, boolean isOnBase, List<Deed.Refill> refills) {
    return new Kit(
        Dripper.CONE,
        kettle,
        Room.USUAL,
        new Filling(Mass.ofGrams(fill), Mass.ofGrams(100), Mass.ZERO, isOnBase, refills),
        Limits.USUAL);
  }

  @Test
  void a_dripper_holds_what_its_shape_says() {
    // π r² h
    assertThat(Dripper.FLAT.millilitres()).isCloseTo(Math.PI * 3.75 * 3.75 * 6, within(0.01));
  }

  @Test
  void runs_of_another_dose_teach_no_drain_time() {
    Experience other = Experience.of(Dripper.CONE, Mass.ofGrams(25), runs(4, 0, 1));
    assertThat(other.bed()).isEmpty();
    assertThat(other.runs()).isEqualTo(4);
    assertThat(other.hand()).isPresent();
    assertThat(Experience.of(Dripper.CONE, DOSE, List.of()).hand()).isEmpty();
  }

  @Test
  void what_cannot_be_is_refused() {
    assertThatThrownBy(() -> new Dripper(Dripper.CONE.shape(), 0))
        .isInstanceOf(IllegalArgumentException.class);
    Mass none = Mass.ZERO;
    Mass less = Mass.ofGrams(-1);
    assertThatThrownBy(() -> new Filling(less, none, none, true, List.of()))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Filling(none, less, none, true, List.of()))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Filling(none, none, less, true, List.of()))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Limits(Flow.ZERO, Duration.ofMinutes(3), 3))
        .isInstanceOf(IllegalArgumentException.class);
    Flow some = Flow.ofGramsPerSecond(9);
    assertThatThrownBy(() -> new Limits(some, Duration.ofMinutes(-3), 3))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Limits(some, Duration.ofMinutes(3), -1))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(
            () ->
                new PastRun(
                    none,
                    OptionalDouble.empty(),
                    List.of(),
                    List.of(),
                    List.of(),
                    Optional.empty(),
                    OptionalDouble.empty()))
        .isInstanceOf(IllegalArgumentException.class);
  }

  /** A bed that never drains is waited for a quarter of an hour, and the limit tells. */
  @Test
  void a_bed_that_never_drains_is_over_time() {
    Experience clogged = learned(Dripper.FLAT, 4e-13);
    Plan waits = plan(20, pour(200, 6, "at_s: 0"), pour(70, 6, "when: drained, at_s: 60"));
    Kit kit = new Kit(Dripper.FLAT, Kettle.USUAL, Room.USUAL, Filling.USUAL, Limits.USUAL);
    Forecast forecast = Forecast.of(waits, kit, clogged);
    assertThat(forecast.pours().get(0).drained()).isEmpty();
    assertThat(forecast.pours().get(1).poured().start().seconds()).isGreaterThan(900);
    assertThat(kinds(forecast)).contains(Kind.OVER_TIME).doesNotContain(Kind.DRAINED_OTHERWISE);
  }

  @Test
  void a_plan_may_leave_things_unsaid() {
    PlanReading reading =
        PlanReader.read(
            """
            format: 1
            dose_g: 20
            water_g: 120
            pours:
              - {add_g: 60, flow_g_per_s: 6, start: {at_s: 5}}
              - {add_g: 60, flow_g_per_s: 6, start: {at_s: 120}}
            """,
            "bare");
    Plan bare = ((PlanReading.Understood) reading).plan();
    Forecast forecast = Forecast.of(bare, Kit.USUAL, Experience.NONE);
    assertThat(forecast.kettleCelsius()).isEqualTo(93);
    assertThat(forecast.extractionPercent()).isEmpty();
    assertThat(forecast.pours().get(0).poured().start()).isEqualTo(SessionTime.ofSeconds(5));
  }

  @Test
  void coffee_that_keeps_all_the_water_gives_no_cup() {
    Experience experience = Experience.of(Dripper.CONE, DOSE, runs(4, 0, 1));
    Forecast forecast = Forecast.of(plan(20, pour(30, 6, "at_s: 0")), Kit.USUAL, experience);
    assertThat(forecast.beverageGrams().value()).isZero();
    assertThat(forecast.strengthPercent()).contains(new Estimate(0, 0));
  }

  @Test
  void a_refill_too_small_for_the_rest_asks_for_more() {
    Kettle small = new Kettle(Mass.ofGrams(200), 250, 0.6, 4e-4, 1_000);
    Trouble shortage =
        trouble(
            Forecast.of(FIVE, kit(200, small, true, List.of()), Experience.NONE),
            Kind.KETTLE_SHORT);
    assertThat(shortage.pour()).isEqualTo(4);
    assertThat(shortage.fix()).isEqualTo("refill 101 g before it");
  }

  @Test
  void a_little_over_the_rim_is_no_trouble() {
    Plan two = plan(20, pour(50, 6, "at_s: 0"), pour(60, 6, "at_s: 60"));
    Forecast usual = Forecast.of(two, Kit.USUAL, Experience.NONE);
    double peak = usual.bedMetres() + usual.pours().get(1).peakMetres();
    assertThat(kinds(Forecast.of(two, rim(peak - 1e-5), Experience.NONE)))
        .doesNotContain(Kind.OVERFLOW);
    assertThat(kinds(Forecast.of(two, rim(peak - 3e-3), Experience.NONE))).contains(Kind.OVERFLOW);
  }

  private static Kit rim(double metres) {
    return new Kit(
        new Dripper(Dripper.CONE.shape(), metres),
        Kettle.USUAL,
        Room.USUAL,
        Filling.USUAL,
        Limits.USUAL);
  }
}
