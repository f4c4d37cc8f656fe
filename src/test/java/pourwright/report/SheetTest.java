package pourwright.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.imageio.ImageIO;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import pourwright.coach.Feedback;
import pourwright.compare.PouredCurve;
import pourwright.review.Difference;
import pourwright.review.Extraction;
import pourwright.review.PlanReview;
import pourwright.review.Rehearsals;
import pourwright.review.Rehearsals.Off;
import pourwright.review.Run;
import pourwright.units.SessionTime;

class SheetTest {
  private static final PouredCurve CURVE =
      PouredCurve.of(
          new long[] {0, 3_000_000_000L, 19_000_000_000L, 48_000_000_000L, 64_000_000_000L},
          new long[] {0, 0, 80_000_000_000L, 80_000_000_000L, 160_000_000_000L});

  private static String printed(Sheet sheet) throws Exception {
    try (PDDocument document = Loader.loadPDF(Paper.pdf(sheet))) {
      PDFTextStripper stripper = new PDFTextStripper();
      stripper.setSortByPosition(true);
      return stripper.getText(document).replaceAll("\\s+", " ");
    }
  }

  private static Figures.Poured poured(Run run) {
    return new Figures.Poured(run.id(), CURVE, SessionTime.ofSeconds(3), SessionTime.ofSeconds(64));
  }

  private static PlanReview season(int runs) {
    return PlanReview.listOf(Rehearsals.season(7, runs)).get(0);
  }

  @Test
  void a_season_is_printed_with_all_that_was_found() throws Exception {
    PlanReview review = season(30);
    Map<String, String> charts =
        Figures.of(review, review.runs().stream().map(SheetTest::poured).toList());
    assertThat(charts).containsOnlyKeys("row", "habits", "course", "corridor", "cup");
    String text =
        printed(PeriodSheet.of(List.of(new PeriodSheet.Part(review, charts)), ZoneOffset.UTC));
    assertThat(text)
        .contains("Regional heat", "30 runs", "simulated")
        .contains(review.lesson().orElseThrow().sentence())
        .contains("Ready?", "Pour by pour", "On the corridor of the plan", "Guided and blind")
        .contains("In the cup", "Golden Cup Standard", "The runs", "Cpk")
        .contains("28 10 Nov 2026, 21:00 full guidance");
  }

  @Test
  void a_single_run_is_a_season_too() throws Exception {
    PlanReview review =
        PlanReview.listOf(List.of(Rehearsals.run(1, Feedback.FULL, Off.NOT, Off.NOT, Off.NOT)))
            .get(0);
    Map<String, String> charts = Figures.of(review, List.of());
    assertThat(charts).containsOnlyKeys("row", "habits", "course");
    assertThat(
            printed(PeriodSheet.of(List.of(new PeriodSheet.Part(review, charts)), ZoneOffset.UTC)))
        .contains("Nothing was off.", "1 run,", "too few runs", "Two blind runs beside guided ones")
        .doesNotContain("In the cup", "What the deviation comes from", "On the corridor");
  }

  @Test
  void every_plan_of_a_period_begins_a_page() throws Exception {
    PeriodSheet.Part part = new PeriodSheet.Part(season(3), Map.of());
    Sheet sheet = PeriodSheet.of(List.of(part, part), ZoneOffset.UTC);
    try (PDDocument document = Loader.loadPDF(Paper.pdf(sheet))) {
      int begun = 0;
      for (int page = 1; page <= document.getNumberOfPages(); page++) {
        PDFTextStripper stripper = new PDFTextStripper();
        stripper.setSortByPosition(true);
        stripper.setStartPage(page);
        stripper.setEndPage(page);
        if (stripper.getText(document).trim().startsWith("Regional heat")) {
          begun++;
        }
      }
      assertThat(begun).isEqualTo(2);
    }
  }

  @Test
  void a_run_is_printed_with_its_pours_its_cup_and_its_note() throws Exception {
    Run run = Rehearsals.season(7, 2).get(1);
    Run noted =
        new Run(
            run.id(),
            run.at(),
            run.brewer(),
            run.plan(),
            run.feedback(),
            run.isSimulated(),
            run.comparison(),
            run.estimates(),
            run.cup(),
            "<b>thin</b> & sour");
    String corridor = Figures.corridor(run.plan(), List.of(poured(run)), run.id());
    String text =
        printed(RunSheet.of(noted, Optional.of(corridor), Extraction.of(noted), ZoneOffset.UTC));
    assertThat(text)
        .contains("Run 2", "Ada", "deviation index", "verdict", "Strength", "extraction")
        .contains("±2.0 g, ±2.0 s, ±1.0 g/s", "<b>thin</b> & sour");
  }

  @Test
  void a_run_without_a_curve_or_a_cup_is_printed_too() throws Exception {
    Run run = Rehearsals.run(5, Feedback.BLIND, Off.NOT, new Off(5, 4, 0));
    String text = printed(RunSheet.of(run, Optional.empty(), Optional.empty(), ZoneOffset.UTC));
    assertThat(text)
        .contains("2 pours not inside", "missed", "blind")
        .doesNotContain("In the cup", "Note");
  }

  @Test
  void a_chart_becomes_a_picture_of_its_own_size() throws Exception {
    String svg = Figures.course(season(5));
    BufferedImage image = ImageIO.read(new ByteArrayInputStream(Picture.png(svg, 2)));
    assertThat(image.getWidth()).isBetween(1343, 1345);
    assertThat(image.getHeight()).isBetween(479, 481);
    List<Integer> colours = new ArrayList<>();
    for (int y = 0; y < image.getHeight(); y += 3) {
      colours.add(image.getRGB(image.getWidth() / 2, y));
    }
    assertThat(colours.stream().distinct().count()).isGreaterThan(1);
    assertThatThrownBy(() -> Picture.png("<svg/>", 1)).isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void a_cup_that_shows_a_link_is_not_said_to_show_none() {
    List<String> said = Phrases.links(season(38).cup());
    assertThat(said.get(0)).startsWith("strength (%) changes by");
    assertThat(said)
        .filteredOn(line -> line.startsWith("No link"))
        .noneMatch(line -> line.contains("strength"));
    assertThat(Phrases.links(season(4).cup()))
        .singleElement()
        .asString()
        .startsWith("Too few cups to hold against the pours, 10 are needed: strength (%) (2)");
  }

  @Test
  void numbers_carry_a_true_minus_and_zero_no_sign() {
    assertThat(Phrases.signed(-1.25, 1)).isEqualTo("−1.3");
    assertThat(Phrases.signed(0.04, 1)).isEqualTo("0.0");
    assertThat(Phrases.signed(2, 0)).isEqualTo("+2");
    assertThat(Phrases.plain(-0.5, 2)).isEqualTo("−0.50");
    assertThat(Phrases.p(0.00001)).isEqualTo("< 0.001");
    assertThat(Phrases.p(0.0312)).isEqualTo("0.031");
    assertThat(Phrases.p(0.312)).isEqualTo("0.31");
  }

  @Test
  void a_difference_is_told_with_its_doubt() {
    List<Run> first = new ArrayList<>();
    List<Run> second = new ArrayList<>();
    for (int i = 0; i < 5; i++) {
      first.add(Rehearsals.run(i, Feedback.FULL, Off.NOT, new Off(2 + 0.1 * i, 0, 0), Off.NOT));
      second.add(Rehearsals.run(9 + i, Feedback.FULL, Off.NOT, new Off(0.1 * i, 0, 0), Off.NOT));
    }
    assertThat(Phrases.difference(Difference.of(first, second).lines().get(1), "new", "old"))
        .startsWith("pour 1, water: too few");
    assertThat(Difference.of(first, second).lines())
        .anySatisfy(
            line ->
                assertThat(Phrases.difference(line, "new", "old"))
                    .startsWith("pour 2, water: new less old +2.00 g (95 %: "))
        .anySatisfy(line -> assertThat(line.isClear()).isTrue());
  }

  @Test
  void what_stays_without_guidance_is_told_in_one_of_three_ways() {
    List<Run> better = mixed(0.2, 3);
    List<Run> worse = mixed(3, 0.2);
    List<Run> same = mixed(1, 1);
    assertThat(retention(better)).startsWith("You are better blind than guided");
    assertThat(retention(worse)).startsWith("Guidance still carries you");
    assertThat(retention(same)).startsWith("No difference between blind and guided");
  }

  private static String retention(List<Run> runs) {
    return Phrases.retention(PlanReview.listOf(runs).get(0).feedback().retention());
  }

  private static List<Run> mixed(double blind, double guided) {
    List<Run> runs = new ArrayList<>();
    for (int i = 0; i < 5; i++) {
      runs.add(
          Rehearsals.run(
              2L * i, Feedback.BLIND, Off.NOT, new Off(blind + 0.2 * (i % 2), 0, 0), Off.NOT));
      runs.add(
          Rehearsals.run(
              2L * i + 1,
              Feedback.FADED,
              Off.NOT,
              new Off(guided + 0.2 * (i / 2 % 2), 0, 0),
              Off.NOT));
    }
    return runs;
  }
}
