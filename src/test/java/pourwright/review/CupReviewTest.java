package pourwright.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.coach.Feedback;
import pourwright.review.Rehearsals.Off;
import pourwright.units.Mass;

class CupReviewTest {

  private static Run run(long id, double over, Run.Cup cup) {
    return Rehearsals.run(
        id,
        Rehearsals.plan("A"),
        Feedback.FULL,
        false,
        cup,
        Map.of(),
        List.of(Off.NOT, new Off(over, 0, 0), Off.NOT));
  }

  private static Run.Cup cup(double beverage, double... strengths) {
    List<Run.StrengthReading> readings = new ArrayList<>();
    for (double strength : strengths) {
      readings.add(new Run.StrengthReading(strength, OptionalDouble.of(0.03)));
    }
    return new Run.Cup(Optional.of(Mass.ofGrams(beverage)), readings, List.of());
  }

  /** Mass balance worked by hand: strength × beverage ÷ dose. */
  @ParameterizedTest
  @CsvSource({
    "15, 220, 1.36, 19.9467",
    "20, 280, 1.45, 20.30",
    "30, 440, 1.32, 19.36",
    "20, 300, 1.33, 19.95"
  })
  void extraction_is_strength_times_beverage_by_dose(
      double dose, double beverage, double strength, double expected) {
    assertThat(Extraction.of(strength, 0.03, beverage, 0.1, dose, 0.05).percent().orElseThrow())
        .isCloseTo(expected, within(5e-5));
  }

  /**
   * Relative uncertainties add in squares (GUM, JCGM 100:2008, 5.1.6): 0.03/1.40, 0.1/250 and
   * 0.05/16 give 2.166 %.
   */
  @Test
  void uncertainties_of_the_factors_add_in_squares() {
    Extraction extraction = Extraction.of(1.40, 0.03, 250, 0.1, 16, 0.05);
    assertThat(extraction.uncertainty() / extraction.percent().orElseThrow())
        .isCloseTo(0.02166, within(5e-6));
  }

  @Test
  void repeats_make_the_scatter_smaller_but_not_the_instrument() {
    Extraction one = Extraction.of(run(1, 0, cup(208, 1.36))).orElseThrow();
    Extraction four = Extraction.of(run(1, 0, cup(208, 1.35, 1.37, 1.35, 1.37))).orElseThrow();
    assertThat(one.strengthUncertainty()).isEqualTo(0.03);
    assertThat(four.strengthPercent()).isCloseTo(1.36, within(1e-12));
    // s = 0.011547, divided by √4, joined with 0.03
    assertThat(four.strengthUncertainty()).isCloseTo(Math.hypot(0.0057735, 0.03), within(1e-6));
  }

  @Test
  void an_instrument_without_its_uncertainty_is_given_the_usual_one() {
    Run.Cup cup =
        new Run.Cup(
            Optional.empty(),
            List.of(new Run.StrengthReading(1.3, OptionalDouble.empty())),
            List.of());
    Extraction extraction = Extraction.of(run(1, 0, cup)).orElseThrow();
    assertThat(extraction.strengthUncertainty()).isEqualTo(Extraction.USUAL_INSTRUMENT_PERCENT);
    assertThat(extraction.percent()).isEmpty();
    assertThat(extraction.place()).isEmpty();
    assertThat(extraction.isCloseCall()).isTrue();
    assertThat(Extraction.of(run(1, 0, Run.Cup.NONE))).isEmpty();
  }

  /** Golden Cup Standard, 23 December 2015: 1.15 to 1.35 %, 18 to 22 %. */
  @ParameterizedTest
  @CsvSource({
    "1.25, 240, INSIDE",
    "1.10, 273, WEAK",
    "1.40, 214, STRONG",
    "1.25, 200, UNDER",
    "1.25, 280, OVER",
    "1.10, 200, WEAK_UNDER",
    "1.10, 320, WEAK_OVER",
    "1.40, 180, STRONG_UNDER",
    "1.40, 250, STRONG_OVER"
  })
  void a_cup_lies_in_one_of_nine_places(double strength, double beverage, Extraction.Place place) {
    assertThat(Extraction.of(strength, 0.001, beverage, 0.05, 15, 0.05).place()).contains(place);
    assertThat(place.words()).isNotBlank();
  }

  @Test
  void a_limit_within_reach_is_a_close_call() {
    assertThat(Extraction.of(1.25, 0.03, 240, 0.05, 15, 0.05).isCloseCall()).isFalse();
    assertThat(Extraction.of(1.30, 0.03, 230, 0.05, 15, 0.05).isCloseCall()).isTrue();
    assertThat(Extraction.of(1.25, 0.01, 218, 0.05, 15, 0.05).isCloseCall()).isTrue();
  }

  private static List<Run> linked(int runs, double perGram) {
    Random random = new Random(3);
    List<Run> all = new ArrayList<>();
    for (int i = 0; i < runs; i++) {
      double over = 2 * random.nextGaussian();
      Run.Cup cup =
          new Run.Cup(
              Optional.of(Mass.ofGrams(208)),
              List.of(
                  new Run.StrengthReading(
                      1.3 + perGram * over + 0.01 * random.nextGaussian(), OptionalDouble.empty())),
              List.of(
                  new Run.Tasting(Map.of("body", 6 + random.nextGaussian())),
                  new Run.Tasting(Map.of("body", 6.0, "acidity", 7.0))));
      all.add(run(i + 1, over, cup));
    }
    return all;
  }

  private static CupReview.Link link(List<Run> runs, String cup, String pours) {
    return PlanReview.listOf(runs).get(0).cup().links().stream()
        .filter(link -> link.cup().startsWith(cup) && link.pours().startsWith(pours))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void a_link_that_is_there_is_found_and_not_called_a_cause() {
    CupReview.Link link = link(linked(16, -0.02), "strength", "water");
    assertThat(link.isClear()).isTrue();
    assertThat(link.line().orElseThrow().slope()).isCloseTo(-0.02, within(0.005));
    assertThat(link.sentence()).contains("−0.0", "in 16 runs", "not proven to be the cause");
  }

  /** Strength times beverage by dose, so the slope of the one is that of the other times these. */
  @Test
  void extraction_is_held_against_the_pours_too() {
    List<Run> runs = linked(16, -0.02);
    double dose = runs.get(0).plan().dose().grams();
    assertThat(link(runs, "extraction", "water").line().orElseThrow().slope())
        .isCloseTo(
            link(runs, "strength", "water").line().orElseThrow().slope() * 208 / dose,
            within(1e-9));
  }

  /** Flow and lateness are means over the pours of a run. */
  @Test
  void flow_and_lateness_are_linked_by_their_means() {
    List<Run> runs = new ArrayList<>();
    for (int i = 0; i < 10; i++) {
      double off = i - 4.5;
      runs.add(
          Rehearsals.run(
              i + 1,
              Rehearsals.plan("A"),
              Feedback.FULL,
              false,
              cup(208, 1.3 + 0.01 * off),
              Map.of(),
              List.of(Off.NOT, new Off(0, 0.4 * off, 0.3 * off), new Off(0, 0.2 * off, 0))));
    }
    // over three pours, of which the first starts the clock and so is never late
    assertThat(link(runs, "strength", "lateness").line().orElseThrow().slope())
        .isCloseTo(0.01 / 0.2, within(1e-6));
    assertThat(link(runs, "strength", "flow").line().orElseThrow().slope())
        .isCloseTo(0.01 / 0.1, within(1e-6));
  }

  @Test
  void a_link_that_is_not_there_is_not_found() {
    CupReview.Link link = link(linked(16, 0), "strength", "water");
    assertThat(link.isClear()).isFalse();
    assertThat(link.sentence()).contains("no link seen", "no proof");
  }

  @Test
  void too_few_runs_are_said_to_be_too_few() {
    assertThat(link(linked(9, -0.02), "strength", "water").sentence())
        .isEqualTo("strength (%) and water poured over plan (g): too few runs to say (9 of 10).");
  }

  @Test
  void what_never_varied_has_no_line() {
    assertThat(link(linked(12, -0.02), "acidity", "water").sentence()).contains("nothing varied");
  }

  @Test
  void scores_are_the_mean_of_a_runs_tastings() {
    CupReview cup = PlanReview.listOf(linked(4, 0)).get(0).cup();
    assertThat(cup.scores()).extracting(CupReview.Score::item).containsExactly("acidity", "body");
    assertThat(cup.scores().get(0).series().mean()).hasValue(7.0);
    assertThat(cup.cups()).hasSize(4);
  }
}
