package pourwright.card;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.plan.Tolerance;
import pourwright.rig.Rig;
import pourwright.stage.Chore;
import pourwright.stage.EventRules;
import pourwright.stage.HandTimes;
import pourwright.stage.Job;
import pourwright.stage.Kettle;
import pourwright.stage.Outcome;
import pourwright.stage.Patience;
import pourwright.stage.Routine;
import pourwright.stage.Speech;
import pourwright.stage.Spreads;
import pourwright.stage.StageFile;
import pourwright.stage.StageSolver;
import pourwright.stage.Station;
import pourwright.stage.Timetable;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class StageCardTest {
  private static final Plan PLAN =
      new Plan(
          "short & sweet",
          Mass.ofGrams(15),
          Mass.ofGrams(240),
          OptionalDouble.of(93),
          OptionalDouble.empty(),
          Rig.WHOLE,
          Optional.empty(),
          Optional.empty(),
          Tolerance.COMMON,
          List.of(
              new PlannedPour(
                  1,
                  Mass.ofGrams(60.5),
                  Flow.ofGramsPerSecond(5),
                  new Start.AtClock(SessionTime.ZERO)),
              new PlannedPour(
                  2,
                  Mass.ofGrams(179.5),
                  Flow.ofGramsPerSecond(6),
                  new Start.AtClock(SessionTime.ofSeconds(60)))),
          List.of());

  private static StageFile file(EventRules rules) {
    return new StageFile(
        "Heat <one>",
        new Routine(
            List.of(
                new Station("left", PLAN, List.of(40, 45)),
                new Station("right", PLAN, List.of(40, 45))),
            HandTimes.COMMON,
            Kettle.COMMON,
            List.of(new Speech("the farm", 20, 200, 10)),
            600,
            20,
            true,
            20,
            0),
        rules,
        Spreads.PRACTISED);
  }

  private static Timetable timetable(StageFile file) {
    Outcome outcome =
        StageSolver.solve(file.routine(), Patience.of(Duration.ofSeconds(60), System::nanoTime));
    return ((Outcome.Planned) outcome).timetable();
  }

  private static String text(PDDocument document) throws Exception {
    PDFTextStripper stripper = new PDFTextStripper();
    stripper.setSortByPosition(true);
    return stripper.getText(document);
  }

  @Test
  void a_card_says_running_totals_talk_counts_volumes_and_cautions() throws Exception {
    StageFile file = file(EventRules.COMMON);
    for (StageCard.Size size : StageCard.Size.values()) {
      try (PDDocument document = Loader.loadPDF(StageCard.pdf(file, timetable(file), size))) {
        assertThat(document.getPage(0).getMediaBox().getWidth())
            .isCloseTo(size == StageCard.Size.A5 ? 419.5f : 595.3f, within(1f));
        assertThat(text(document))
            .contains(
                "Heat <one>",
                "“the farm” (10\u00a0s)",
                "Scale dead? Pour by count",
                "Boiling water and steam burn",
                "rule book")
            .containsPattern("left pour 1 12 s 5 g/s \\d:\\d\\d 60.5 g")
            .containsPattern("right pour 2 30 s 6 g/s \\d:\\d\\d 240 g")
            .containsPattern("\\d:\\d\\d (left|right) serve\\n");
      }
    }
  }

  /** One to eight brewers after each other, each with four jobs and a name of any length. */
  private static Timetable inTurn(List<String> names) {
    List<Timetable.Slot> slots = new ArrayList<>();
    for (Chore chore : List.of(Chore.DOSE, Chore.POUR, Chore.LIFT, Chore.SERVE)) {
      for (int station = 0; station < names.size(); station++) {
        for (int pour = 1; pour <= (chore == Chore.POUR ? 2 : 1); pour++) {
          boolean isPour = chore == Chore.POUR;
          Mass water = isPour ? PLAN.pours().get(pour - 1).add() : Mass.ZERO;
          Job job =
              new Job(slots.size(), chore, station, isPour ? pour : 0, 30, water, chore.words());
          slots.add(new Timetable.Slot(job, 30 * slots.size()));
          if (isPour && pour == 1) {
            Job said =
                new Job(slots.size(), Chore.SPEAK, Job.NO_STATION, 0, 9, Mass.ZERO, "of the lot");
            slots.add(new Timetable.Slot(said, 30 * slots.size()));
          }
        }
      }
    }
    return new Timetable(slots, 0, 0, 30 * slots.size());
  }

  private static StageFile named(List<String> names) {
    Routine routine =
        file(EventRules.COMMON)
            .routine()
            .withStations(
                names.stream().map(name -> new Station(name, PLAN, List.of(40, 45))).toList());
    return new StageFile("Any", routine, EventRules.COMMON, Spreads.PRACTISED);
  }

  /** Whatever reaches into the margins, as what it says. */
  private static final class Outside extends PDFTextStripper {
    final List<String> said = new ArrayList<>();

    @Override
    protected void processTextPosition(TextPosition at) {
      double margin = (at.getPageWidth() > 500 ? 14 : 9) * 72 / 25.4 - 1;
      if (at.getXDirAdj() < margin
          || at.getXDirAdj() + at.getWidthDirAdj() > at.getPageWidth() - margin) {
        said.add(at.getUnicode());
      }
      super.processTextPosition(at);
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8})
  void no_card_is_clipped_none_breaks_a_figure_and_none_ends_on_an_empty_page(int brewers)
      throws Exception {
    List<String> names =
        List.of("left", "the brewer nearest to the judges", "c", "Incomprehensibly", "five")
            .subList(0, Math.min(5, brewers));
    names = new ArrayList<>(names);
    while (names.size() < brewers) {
      names.add("brewer " + names.size());
    }
    StageFile file = named(names);
    for (StageCard.Size size : StageCard.Size.values()) {
      try (PDDocument document = Loader.loadPDF(StageCard.pdf(file, inTurn(names), size))) {
        Outside outside = new Outside();
        outside.setSortByPosition(true);
        String text = outside.getText(document);
        assertThat(outside.said).as("%s", size).isEmpty();
        assertThat(text).doesNotContain("#"); // stands for letters that the type lacks
        assertThat(text.contains("! ")).isEqualTo(brewers < 3);
        assertThat(Pattern.compile("pour 2 30 s 6 g/s \\d+:\\d\\d 240 g").matcher(text).results())
            .as("%s: %s", size, text)
            .hasSize(brewers);
        PDFTextStripper end = new PDFTextStripper();
        end.setStartPage(document.getNumberOfPages());
        if (document.getNumberOfPages() > 1) {
          assertThat(end.getText(document).lines().count()).as("%s", size).isGreaterThan(5);
        } else {
          assertThat(brewers).isLessThan(5);
        }
      }
    }
  }

  /** 240 g of water at 93 °C, of 963.3 kg/m³ (Kell 1975), take 249 mL. */
  @Test
  void volumes_come_from_the_density_of_hot_water() throws Exception {
    StageFile file = file(EventRules.COMMON);
    assertThat(StageCard.cupMillilitres(PLAN, EventRules.COMMON))
        .isCloseTo(210 / 0.97776, within(0.1));
    try (PDDocument document =
        Loader.loadPDF(StageCard.pdf(file, timetable(file), StageCard.Size.A4))) {
      assertThat(text(document)).contains("240 g", "249 mL at 93 °C", "215 mL at 70 °C");
    }
  }

  @Test
  void a_cup_that_holds_less_than_the_rules_ask_for_is_marked() {
    EventRules rules = new EventRules("large cups", 480, 3, 220, 70);
    StageFile file = file(rules);
    assertThat(StageCard.of(file, timetable(file), StageCard.Size.A5, 1).body())
        .contains("! ", "220 mL", "3 cups", "8:00");
    StageFile common = file(new EventRules("small", 600, 2, 100, 70));
    assertThat(StageCard.of(common, timetable(common), StageCard.Size.A5, 1).body())
        .doesNotContain("! ");
  }
}
