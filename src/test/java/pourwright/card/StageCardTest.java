package pourwright.card;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.plan.Tolerance;
import pourwright.report.Paper;
import pourwright.rig.Rig;
import pourwright.stage.EventRules;
import pourwright.stage.HandTimes;
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
      try (PDDocument document =
          Loader.loadPDF(Paper.pdf(StageCard.of(file, timetable(file), size)))) {
        assertThat(document.getPage(0).getMediaBox().getWidth())
            .isCloseTo(size == StageCard.Size.A5 ? 419.5f : 595.3f, within(1f));
        assertThat(text(document))
            .contains(
                "Heat <one>",
                "pour 1 60.5 g",
                "pour 2 240 g",
                "“the farm” (10 s)",
                "Scale dead? Pour by count",
                "30 6.0 g/s",
                "Boiling water and steam burn",
                "rule book");
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
        Loader.loadPDF(Paper.pdf(StageCard.of(file, timetable(file), StageCard.Size.A4)))) {
      assertThat(text(document)).contains("240 g", "249 mL at 93 °C", "215 mL at 70 °C");
    }
  }

  @Test
  void a_cup_that_holds_less_than_the_rules_ask_for_is_marked() {
    EventRules rules = new EventRules("large cups", 480, 3, 220, 70);
    StageFile file = file(rules);
    assertThat(StageCard.of(file, timetable(file), StageCard.Size.A5).body())
        .contains("◆", "220 mL", "3 cups", "8:00");
    StageFile common = file(new EventRules("small", 600, 2, 100, 70));
    assertThat(StageCard.of(common, timetable(common), StageCard.Size.A5).body())
        .doesNotContain("◆");
  }
}
