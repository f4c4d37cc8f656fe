package pourwright.kettle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.kettle.Course.Content;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class CourseTest {
  private static final Mass LITRE = Mass.ofGrams(1_000);
  private static final Room AT_20 = new Room(20, 0.5, 0.1);

  /** No water seen, no metal, no base: Newton's law of cooling and nothing else. */
  private static Kettle closed(double wattsPerKelvin) {
    return new Kettle(LITRE, 0, wattsPerKelvin, 0, 0);
  }

  private static double perSecond(double perMinute) {
    return perMinute / 60;
  }

  private static SessionTime minutes(double minutes) {
    return SessionTime.ofSeconds(60 * minutes);
  }

  private static Course cooling(Kettle kettle, double celsius, double minutes) {
    return Course.of(kettle, AT_20, new Content(LITRE, celsius), List.of(), minutes(minutes));
  }

  /**
   * A textbook exercise: 95 °C in a room of 20 °C, 61 °C after half an hour, so the rate is ln
   * (75/41) / 30 min; the mean of the half hour is 76.3 °C.
   */
  @Test
  void a_cup_of_the_textbook_cools_as_printed() {
    Kettle kettle = new Cooling(LITRE, 95, 61, 1_800, AT_20).appliedTo(closed(0)).orElseThrow();
    assertThat(kettle.wattsPerKelvin() / Kettle.JOULES_PER_KILOGRAM_KELVIN)
        .isCloseTo(perSecond(0.0201305), within(1e-9));
    Course course = cooling(kettle, 95, 30);
    for (int minute = 0; minute <= 30; minute += 5) {
      assertThat(course.at(minutes(minute)).celsius())
          .isCloseTo(20 + 75 * Math.exp(-0.0201305 * minute), within(1e-3));
    }
    assertThat(
            course.listStates().stream()
                .mapToDouble(state -> state.content().celsius())
                .average()
                .orElseThrow())
        .isCloseTo(76.30, within(0.02));
  }

  /**
   * Two exercises that give the first rate: 90 °C losing 8 °C a minute is 75 °C after 2.1102 min;
   * 80 °C losing 6 °C a minute is 40 °C after 10.9861 min.
   */
  @ParameterizedTest
  @CsvSource({"90, 8, 75, 2.1102", "80, 6, 40, 10.9861"})
  void a_first_rate_tells_when_it_is_cool(double from, double rate, double to, double minutes) {
    double perMinute = rate / (from - 20);
    Kettle kettle = closed(perSecond(perMinute) * Kettle.JOULES_PER_KILOGRAM_KELVIN);

    assertThat(cooling(kettle, from, minutes).at(minutes(minutes)).celsius())
        .isCloseTo(to, within(1e-3));
  }

  /**
   * The pond formula of the ASHRAE Handbook in SI units: 90 °C in air of 1.2 kPa moving at 0.1 m/s
   * loses 2.93 g/(s·m²).
   */
  @Test
  void evaporation_is_that_of_the_handbook() {
    Room room = new Room(20, 1_200 / 2_339.3, 0.1);
    assertThat(1_000 * Kettle.USUAL.evaporation(90, room) / Kettle.USUAL.openSquareMetres())
        .isCloseTo(2.93, within(0.01));
    assertThat(Kettle.USUAL.evaporation(0, new Room(20, 1, 0))).isZero();
  }

  @Test
  void what_evaporates_takes_its_heat_along() {
    Kettle open = new Kettle(LITRE, 0, 0, 8e-3, 0);
    Course course = cooling(open, 90, 5);

    double lost = course.evaporated().grams();
    assertThat(lost).isBetween(4.0, 8.0);
    Content end = course.at(minutes(5));
    assertThat(end.mass().grams() + lost).isCloseTo(1_000, within(1e-6));
    // 2285 kJ/kg out of a litre, by hand
    assertThat(90 - end.celsius()).isCloseTo(lost * 2_285 / 4_195, within(0.03));
  }

  @Test
  void a_refill_mixes_by_heat() {
    Kettle kettle = closed(0);
    Course course =
        Course.of(
            kettle,
            AT_20,
            new Content(Mass.ofGrams(300), 90),
            List.of(new Deed.Refill(SessionTime.ofSeconds(10), Mass.ofGrams(100), 50)),
            SessionTime.ofSeconds(20));

    assertThat(course.at(SessionTime.ofSeconds(9)).celsius()).isCloseTo(90, within(1e-9));
    assertThat(course.at(SessionTime.ofSeconds(10)).celsius()).isCloseTo(80, within(1e-9));
    assertThat(course.at(SessionTime.ofSeconds(20)).mass().grams()).isCloseTo(400, within(1e-6));
  }

  @Test
  void pours_take_water_and_a_small_rest_cools_faster() {
    Kettle kettle = closed(1);
    Deed.PourOut pour =
        new Deed.PourOut(SessionTime.ZERO, SessionTime.ofSeconds(10), Mass.ofGrams(750));
    Course course =
        Course.of(kettle, AT_20, new Content(LITRE, 90), List.of(pour), SessionTime.ofSeconds(130));

    assertThat(course.at(SessionTime.ofSeconds(5)).mass().grams()).isCloseTo(625, within(1e-3));
    Content after = course.at(SessionTime.ofSeconds(10));
    assertThat(after.mass().grams()).isCloseTo(250, within(1e-6));
    double end = course.at(SessionTime.ofSeconds(130)).celsius();
    assertThat(end)
        .isCloseTo(20 + (after.celsius() - 20) * Math.exp(-120 / (0.25 * 4_195)), within(1e-3));
  }

  @Test
  void a_kettle_that_runs_out_says_by_how_much() {
    Deed.PourOut pour =
        new Deed.PourOut(SessionTime.ZERO, SessionTime.ofSeconds(10), Mass.ofGrams(60));
    Course course =
        Course.of(
            Kettle.USUAL,
            Room.USUAL,
            new Content(Mass.ofGrams(50), 90),
            List.of(pour),
            SessionTime.ofSeconds(12));

    assertThat(course.at(SessionTime.ofSeconds(12)).mass().grams()).isCloseTo(-10, within(0.1));
  }

  @Test
  void a_base_heats_to_its_mark_and_holds_it() {
    Kettle kettle = new Kettle(LITRE, 0, 1, 0, 1_000);
    Course course =
        Course.of(
            kettle,
            AT_20,
            new Content(Mass.ofGrams(500), 80),
            List.of(new Deed.Heat(SessionTime.ofSeconds(5), SessionTime.ofSeconds(90), 93)),
            SessionTime.ofSeconds(120));

    // 935 W into half a litre, from the 79.86 °C left after five seconds
    assertThat(course.at(SessionTime.ofSeconds(15)).celsius()).isCloseTo(84.3, within(0.1));
    assertThat(course.at(SessionTime.ofSeconds(60)).celsius()).isEqualTo(93);
    assertThat(course.at(SessionTime.ofSeconds(90)).celsius()).isEqualTo(93);
    assertThat(course.at(SessionTime.ofSeconds(120)).celsius()).isLessThan(92.5);
  }

  @Test
  void a_base_set_lower_than_the_water_lets_it_cool_to_there() {
    Kettle kettle = new Kettle(LITRE, 0, 20, 0, 2_000);
    Course course =
        Course.of(
            kettle,
            AT_20,
            new Content(Mass.ofGrams(200), 90),
            List.of(new Deed.Heat(SessionTime.ZERO, SessionTime.ofSeconds(60), 85)),
            SessionTime.ofSeconds(60));
    assertThat(course.at(SessionTime.ofSeconds(60)).celsius()).isBetween(84.0, 86.8);
  }

  @Test
  void without_heat_a_base_changes_nothing() {
    Kettle cold = new Kettle(LITRE, 0, 1, 0, 0);
    List<Deed> base = List.of(new Deed.Heat(SessionTime.ZERO, SessionTime.ofSeconds(60), 95));
    Content start = new Content(LITRE, 90);
    SessionTime end = SessionTime.ofSeconds(60);
    assertThat(Course.of(cold, AT_20, start, base, end).at(end))
        .isEqualTo(Course.of(cold, AT_20, start, List.of(), end).at(end));
  }

  @Test
  void what_happens_before_or_after_the_routine_is_left_out() {
    List<Deed> outside =
        List.of(
            new Deed.Refill(SessionTime.ofSeconds(-5), LITRE, 50),
            new Deed.Refill(SessionTime.ofSeconds(50), LITRE, 50));
    Course course =
        Course.of(closed(0), AT_20, new Content(LITRE, 90), outside, SessionTime.ofSeconds(20));
    assertThat(course.at(SessionTime.ofSeconds(99)).mass().grams()).isCloseTo(1_000, within(1e-6));
    assertThat(course.at(SessionTime.ofSeconds(-1)).celsius()).isEqualTo(90);
  }

  @Test
  void a_cooling_that_evaporation_alone_outdoes_tells_nothing() {
    Kettle wide = new Kettle(LITRE, 0, 1, 0.05, 0);
    assertThat(new Cooling(LITRE, 95, 94.9, 600, AT_20).appliedTo(wide)).isEmpty();
  }

  @Test
  void what_cannot_be_is_refused() {
    assertThatThrownBy(() -> new Cooling(LITRE, 90, 95, 60, AT_20))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Cooling(LITRE, 90, 15, 60, AT_20))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Cooling(LITRE, 90, 80, 0, AT_20))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Cooling(Mass.ZERO, 90, 80, 60, AT_20))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Room(-1, 0.5, 0)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Room(20, 1.5, 0)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Room(20, 0.5, -1)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Kettle(Mass.ZERO, 0, 0, 0, 0))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Kettle(LITRE, -1, 0, 0, 0))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> closed(-1)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Kettle(LITRE, 0, 0, -1, 0))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Kettle(LITRE, 0, 0, 0, -1))
        .isInstanceOf(IllegalArgumentException.class);
    SessionTime now = SessionTime.ZERO;
    assertThatThrownBy(() -> new Deed.PourOut(now, now, LITRE))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Deed.PourOut(now, minutes(1), LITRE.negated()))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Deed.Refill(now, LITRE, 101))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Deed.Refill(now, LITRE.negated(), 50))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Deed.Heat(now, now, 90))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Deed.Heat(now, minutes(1), 101))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
