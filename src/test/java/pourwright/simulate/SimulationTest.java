package pourwright.simulate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.plan.Plan;
import pourwright.plan.Plans;
import pourwright.plan.Schedule;
import pourwright.reading.Reading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.simulate.Truth.Pour;
import pourwright.units.SessionTime;

class SimulationTest {
  private static final Plan PLAN = Plans.demo();

  /** A scale that shows what is there: no lag, no noise, milligrams. */
  private static final ScaleTraits PERFECT = new ScaleTraits(100, 0, 1, 0, 0.001, 0, false, 1, 0);

  private static Simulation simulation(String name, Rig rig, long seed) {
    return new Simulation(PLAN, Scenario.findByName(name).orElseThrow(), rig, seed);
  }

  private static Simulation perfect(Rig rig, long seed) {
    Scenario scenario = new Scenario("perfect", "", Skill.SKILLED, PERFECT, Set.of());
    return new Simulation(PLAN, scenario, rig, seed);
  }

  private static List<Reading> readings(Simulation run, Place place) {
    List<Reading> readings = new ArrayList<>();
    while (run.advance()) {
      if (run.place() == place) {
        readings.add(run.reading());
      }
    }
    return readings;
  }

  private static double gramsAt(List<Reading> readings, SessionTime at) {
    return readings.stream()
        .filter(reading -> !reading.at().isBefore(at))
        .findFirst()
        .orElseThrow()
        .mass()
        .grams();
  }

  static Stream<Scenario> scenarios() {
    return Scenario.list().stream();
  }

  @ParameterizedTest
  @MethodSource("scenarios")
  void every_scenario_pours_the_plan_on_every_rig_and_ends_by_itself(Scenario scenario) {
    for (Rig rig : Rig.values()) {
      Simulation run = new Simulation(PLAN, scenario, rig, 11);
      long last = Long.MIN_VALUE;
      Set<Place> heard = EnumSet.noneOf(Place.class);
      while (run.advance()) {
        heard.add(run.place());
        last = Math.max(last, run.nanos());
      }
      assertThat(heard).containsExactlyInAnyOrderElementsOf(rig.places());
      Truth truth = run.truth();
      assertThat(truth.pours()).hasSize(4);
      assertThat(truth.lift()).isPresent();
      assertThat(last * 1e-9).isBetween(120.0, 300.0);
      for (int i = 0; i < 4; i++) {
        assertThat(truth.pours().get(i).poured().grams())
            .isCloseTo(PLAN.pours().get(i).add().grams(), within(20.0));
      }
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
  void times_never_go_back_and_pours_stay_apart(long seed) {
    Simulation run = simulation("bursts", Rig.SPLIT, seed);
    long last = Long.MIN_VALUE;
    while (run.advance()) {
      assertThat(run.nanos()).isGreaterThanOrEqualTo(last);
      last = run.nanos();
    }
    List<Pour> pours = run.truth().pours();
    for (int i = 1; i < pours.size(); i++) {
      assertThat(pours.get(i).start().secondsSince(pours.get(i - 1).end())).isGreaterThan(3.0);
    }
  }

  @Test
  void same_seed_gives_the_same_run_and_another_seed_another() {
    List<Reading> once = readings(simulation("rough", Rig.WHOLE, 7), Place.WHOLE);
    assertThat(readings(simulation("rough", Rig.WHOLE, 7), Place.WHOLE)).isEqualTo(once);
    assertThat(readings(simulation("rough", Rig.WHOLE, 8), Place.WHOLE)).isNotEqualTo(once);
  }

  @Test
  void a_perfect_scale_weighs_what_was_poured_and_what_was_lifted() {
    Simulation run = perfect(Rig.WHOLE, 3);
    List<Reading> readings = readings(run, Place.WHOLE);
    Truth truth = run.truth();
    for (Pour pour : truth.pours()) {
      double before = gramsAt(readings, pour.start().plusSeconds(-0.1));
      double after = gramsAt(readings, pour.end().plusSeconds(0.05));
      double vapour = 0.02 * pour.end().secondsSince(pour.start());
      assertThat(after - before).isCloseTo(pour.poured().grams() - vapour, within(0.02));
    }
    Truth.Lift lift = truth.lift().orElseThrow();
    double before = gramsAt(readings, lift.at().plusSeconds(-0.4));
    double after = gramsAt(readings, lift.at().plusSeconds(0.1));
    assertThat(before - after).isCloseTo(lift.removed().grams(), within(0.05));
    // Zeroed with everything empty on it: what is missing is dripper and coffee.
    assertThat(after).isCloseTo(lift.beverage().grams() - 131 - 16.5, within(0.05));
  }

  @Test
  void the_split_rig_conserves_water() {
    Simulation run = perfect(Rig.SPLIT, 5);
    List<Reading> server = new ArrayList<>();
    List<Reading> whole = new ArrayList<>();
    while (run.advance()) {
      (run.place() == Place.SERVER ? server : whole).add(run.reading());
    }
    Truth truth = run.truth();
    SessionTime quiet = truth.lift().orElseThrow().at().plusSeconds(-0.5);
    double landed = truth.pours().stream().mapToDouble(pour -> pour.poured().grams()).sum();
    double inBed = gramsAt(whole, quiet) - gramsAt(server, quiet);
    double beverage = truth.lift().orElseThrow().beverage().grams();
    assertThat(gramsAt(server, quiet)).isCloseTo(beverage, within(0.1));
    // Two grams of water per gram of coffee stay, less what became vapour, plus spout drips.
    assertThat(inBed).isBetween(25.0, 33.5);
    assertThat(landed - beverage).isCloseTo(inBed, within(5.0));
  }

  @Test
  void water_drains_only_after_it_landed_and_the_bed_runs_dry() {
    Simulation run = perfect(Rig.SERVER, 2);
    List<Reading> server = readings(run, Place.SERVER);
    Truth truth = run.truth();
    assertThat(truth.drained()).hasSizeGreaterThanOrEqualTo(3);
    SessionTime dry = truth.drained().get(0).at();
    Pour first = truth.pours().get(0);
    assertThat(dry).isGreaterThan(first.end());
    double atStart = gramsAt(server, first.start());
    assertThat(gramsAt(server, first.start().plusSeconds(0.5)) - atStart).isLessThan(0.2);
    double total = gramsAt(server, dry) - atStart;
    assertThat(total).isBetween(4.0, 13.0);
  }

  @Test
  void a_landing_stream_pushes_about_as_much_as_the_water_still_in_the_air() {
    FallingStream stream = new FallingStream(0.2, 0.005);
    double landing = 0;
    double inTheAir = 0;
    for (int i = 0; i < 400; i++) {
      landing = stream.step(6.0);
      inTheAir += (6.0 - landing) * 0.005;
    }
    assertThat(landing).isEqualTo(6.0);
    // Both are mass flow times fall time, v/g and sqrt(2h/g) being the same: 1.21 g at 6 g/s.
    assertThat(stream.pushGrams(landing)).isCloseTo(1.212, within(0.001));
    assertThat(inTheAir).isCloseTo(1.212, within(0.03));
  }

  @Test
  void a_first_order_scale_lags_by_its_time_constant() {
    ScaleTraits traits = new ScaleTraits(100, 0.5, 1, 0, 0.001, 0, false, 1, 0);
    WeighedPlace scale =
        new WeighedPlace(Place.WHOLE, traits, new java.util.SplittableRandom(1), 0.005);
    for (int i = 1; i <= 1000; i++) {
      scale.step(i * 0.005, 6.0 * i * 0.005, true);
      if (scale.isReady()) {
        scale.take();
      }
    }
    assertThat(scale.shownGrams()).isCloseTo(6.0 * (5.0 - 0.5), within(0.1));
  }

  @Test
  void a_skilled_brewer_is_mostly_inside_the_tolerances_and_a_novice_mostly_not() {
    assertThat(shareInside("bench")).isGreaterThan(0.85);
    assertThat(shareInside("novice")).isLessThan(0.5);
  }

  /** Share of pours within 2 g and 2 s of the moment that was due. */
  private static double shareInside(String name) {
    Schedule schedule = Schedule.of(PLAN);
    int inside = 0;
    int all = 0;
    for (long seed = 0; seed < 60; seed++) {
      Simulation run = simulation(name, Rig.WHOLE, seed);
      while (run.advance()) {}
      List<Pour> pours = run.truth().pours();
      SessionTime zero = schedule.clockZero(pours.get(0).start());
      for (int i = 0; i < pours.size(); i++) {
        Pour pour = pours.get(i);
        SessionTime due =
            schedule.dueAt(
                i + 1,
                zero,
                i == 0 ? java.util.Optional.empty() : java.util.Optional.of(pours.get(i - 1).end()),
                java.util.Optional.empty());
        double massError = pour.poured().grams() - PLAN.pours().get(i).add().grams();
        boolean isInside =
            Math.abs(massError) <= 2 && Math.abs(pour.start().secondsSince(due)) <= 2;
        inside += isInside ? 1 : 0;
        all++;
      }
    }
    return inside / (double) all;
  }

  @Test
  void a_rough_run_has_every_mishap_and_keeps_quiet_in_the_dropout() {
    Simulation run = simulation("rough", Rig.WHOLE, 4);
    List<Reading> readings = readings(run, Place.WHOLE);
    Truth truth = run.truth();
    assertThat(truth.mishaps())
        .extracting(Truth.Happened::mishap)
        .containsExactlyInAnyOrderElementsOf(EnumSet.complementOf(EnumSet.of(Mishap.TARE)));
    assertThat(truth.tares()).hasSize(2);
    Truth.Happened dropout =
        truth.mishaps().stream()
            .filter(happened -> happened.mishap() == Mishap.DROPOUT)
            .findFirst()
            .orElseThrow();
    assertThat(readings)
        .noneMatch(
            reading ->
                reading.at().isAfter(dropout.start().plusSeconds(0.1))
                    && reading.at().isBefore(dropout.end()));
  }

  @Test
  void the_tare_key_zeroes_the_display() {
    Simulation run = simulation("bench", Rig.WHOLE, 1);
    while (run.advance() && run.nanos() < 9_000_000_000L) {}
    assertThat(run.reading().mass().grams()).isGreaterThan(300);
    run.tare(Place.WHOLE);
    run.advance();
    assertThat(run.reading().mass().grams()).isCloseTo(0, within(0.3));
    assertThat(run.truth().tares()).hasSize(1);
  }

  @Test
  void skill_grows_evenly_between_two_brewers() {
    assertThat(Skill.between(Skill.LEARNING, Skill.SKILLED, 0)).isEqualTo(Skill.LEARNING);
    assertThat(Skill.between(Skill.LEARNING, Skill.SKILLED, 1)).isEqualTo(Skill.SKILLED);
    assertThat(Skill.between(Skill.LEARNING, Skill.SKILLED, 0.5).anticipation())
        .isCloseTo(0.7, within(1e-12));
  }

  @Test
  void an_unknown_name_is_not_found() {
    assertThat(Scenario.findByName("nobody")).isEmpty();
    assertThat(Scenario.list()).extracting(Scenario::name).doesNotHaveDuplicates();
  }
}
