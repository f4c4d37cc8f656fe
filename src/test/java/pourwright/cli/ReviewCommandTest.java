package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static pourwright.cli.Ran.pourwright;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import pourwright.journal.JournalFile;
import pourwright.journal.StrengthReading;
import pourwright.web.Answer;
import pourwright.web.Question;

class ReviewCommandTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int RUNS = 4;

  @TempDir static Path folder = Path.of("");

  @BeforeAll
  static void four_runs_are_kept_and_one_is_void() throws Exception {
    for (int seed = 1; seed <= RUNS; seed++) {
      Ran ran =
          pourwright(
              "demo",
              "--speed",
              "0",
              "--seed",
              String.valueOf(seed),
              "--no-page",
              "--lines",
              "--data",
              folder.toString());
      assertThat(ran.status()).as(ran.err()).isZero();
    }
    try (JournalFile journal = JournalFile.open(folder, note -> {})) {
      journal.setVoid(2, true);
      journal.note(3, "<img src=x onerror=alert(1)> thin");
      journal.addStrength(
          3, new StrengthReading(0, Instant.EPOCH, 1.34, OptionalDouble.of(0.02), "glass"));
    }
  }

  private static Ran review(String... more) {
    String[] args = new String[more.length + 3];
    args[0] = "review";
    args[1] = "--data";
    args[2] = folder.toString();
    System.arraycopy(more, 0, args, 3, more.length);
    return pourwright(args);
  }

  private static JsonNode json(String... more) throws Exception {
    String[] args = new String[more.length + 2];
    args[0] = "--format";
    args[1] = "json";
    System.arraycopy(more, 0, args, 2, more.length);
    Ran ran = review(args);
    assertThat(ran.status()).as(ran.err()).isZero();
    return JSON.readTree(ran.out());
  }

  @Test
  void the_review_says_what_to_work_on_and_leaves_the_void_run_out() {
    Ran ran = review();
    assertThat(ran.status()).isZero();
    assertThat(ran.out())
        .contains("Regional heat, lot seven", "3 runs", "simulated", "of all deviation")
        .contains("a hint at most", "Left out: 1 void, 0 without a plan.");
  }

  @Test
  void json_is_one_document_with_every_statistic() throws Exception {
    JsonNode document = json();
    assertThat(document.path("format").asInt()).isEqualTo(1);
    assertThat(document.path("void_runs").asInt()).isEqualTo(1);
    JsonNode review = document.path("reviews").path(0);
    assertThat(review.path("runs")).hasSize(3);
    JsonNode water = review.path("pours").path(1).path("errors").path(0);
    assertThat(water.path("of").asText()).isEqualTo("mass");
    assertThat(water.path("mean_low").asDouble())
        .isLessThan(water.path("mean").asDouble())
        .isLessThan(water.path("mean_high").asDouble());
    assertThat(water.path("within").path("of").asInt()).isEqualTo(3);
    assertThat(water.has("capability")).isTrue();
    assertThat(review.path("readiness").path("needed_in_a_row").asInt()).isEqualTo(29);
    assertThat(review.path("cup").path("cups")).hasSize(1);
    assertThat(review.path("lesson").path("sentence").asText()).isNotBlank();
  }

  @Test
  void runs_are_found_by_words_days_and_feedback() throws Exception {
    assertThat(json("--list").path("runs")).hasSize(RUNS);
    assertThat(json("--list", "--text", "THIN").path("runs")).hasSize(1);
    assertThat(json("--list", "--feedback", "blind").path("runs")).isEmpty();
    assertThat(json("--list", "--until", "2020-01-01").path("runs")).isEmpty();
    assertThat(json("--list", "--from", "2020-01-01").path("runs")).hasSize(RUNS);
    assertThat(json("--list", "--plan", "Regional heat, lot seven").path("runs")).hasSize(RUNS);
    assertThat(json("--list", "--brewer", "nobody").path("runs")).isEmpty();
    assertThat(review("--list").out()).contains("void", "full guidance");
    assertThat(review("--list", "--text", "no such words").out()).contains("No runs:");
    assertThat(review("--text", "no such words").out()).contains("No runs to review: none is");
  }

  @Test
  void one_run_is_told_with_its_note_as_it_stands() throws Exception {
    Ran ran = review("3");
    assertThat(ran.out()).contains("run 3", "verdict", "<img src=x onerror=alert(1)> thin");
    JsonNode run = json("3");
    assertThat(run.path("judged"))
        .filteredOn(pour -> !pour.path("planned").isNull())
        .extracting(pour -> pour.path("planned").asInt())
        .containsExactly(1, 2, 3, 4);
    assertThat(run.path("in_the_cup").path("strength_pct").asDouble()).isEqualTo(1.34);
    assertThat(review("2").out()).contains(", void");
  }

  @Test
  void the_review_is_printed_and_its_charts_are_written() throws Exception {
    Path pdf = folder.resolve("review.pdf");
    Path charts = folder.resolve("charts");
    Ran ran = review("--pdf", pdf.toString(), "--chart", charts.toString());
    assertThat(ran.status()).as(ran.err()).isZero();
    assertThat(Files.readString(pdf, StandardCharsets.ISO_8859_1)).startsWith("%PDF-");
    assertThat(charts.resolve("corridor.svg")).exists();
    assertThat(Files.readString(charts.resolve("habits.svg"))).startsWith("<svg");
    assertThat(Files.readAllBytes(charts.resolve("course.png"))).startsWith(0x89, 'P', 'N', 'G');
    Path one = folder.resolve("run.pdf");
    assertThat(review("3", "--pdf", one.toString(), "--chart", charts.toString()).status())
        .isZero();
    assertThat(Files.size(one)).isGreaterThan(5_000);
    assertThat(charts.resolve("run-3-corridor.svg")).exists();
  }

  @Test
  void two_groups_are_held_against_each_other() throws Exception {
    JsonNode split = json("--split", "2020-01-01").path("difference");
    assertThat(split.path("first_runs").asInt()).isEqualTo(3);
    assertThat(split.path("second_runs").asInt()).isZero();
    assertThat(split.path("lines").path(0).path("say").asText()).contains("too few runs");
    assertThat(
            review("--plan", "Regional heat, lot seven", "--against", "Regional heat, lot seven")
                .out())
        .contains("against Regional heat, lot seven (3 runs)", "less");
  }

  @Test
  void wrong_questions_are_answered_with_what_to_do() {
    assertThat(review("--feedback", "loud").status()).isEqualTo(2);
    assertThat(review("--from", "2026-11-05", "--until", "2026-11-01").err())
        .contains("--until lies before --from");
    assertThat(review("--against", "x").err()).contains("--against needs the other plan");
    assertThat(review("99").err()).contains("there is no run 99");
    assertThat(review("99").status()).isEqualTo(1);
    assertThat(review("--text", "nothing", "--pdf", folder.resolve("x.pdf").toString()).err())
        .contains("nothing to print");
    assertThat(review("--pdf", folder.resolve("no/such/folder/x.pdf").toString()).status())
        .isEqualTo(1);
  }

  private static Optional<Answer> ask(String path, Map<String, String> parameters)
      throws Exception {
    try (JournalFile journal = JournalFile.open(folder, note -> {})) {
      return new ReviewDesk(journal, ZoneOffset.UTC)
          .answer(new Question(true, "/api/v1/review" + path, parameters, ""));
    }
  }

  private static JsonNode told(String path, Map<String, String> parameters) throws Exception {
    Answer answer = ask(path, parameters).orElseThrow();
    assertThat(answer.status()).isEqualTo(200);
    return JSON.readTree(answer.content());
  }

  @Test
  void the_page_gets_runs_reviews_charts_and_prints() throws Exception {
    JsonNode runs = told("/runs", Map.of());
    assertThat(runs.path("runs")).hasSize(RUNS);
    assertThat(runs.path("plans").path(0).asText()).isEqualTo("Regional heat, lot seven");
    assertThat(told("/runs", Map.of("text", "thin")).path("runs")).hasSize(1);
    JsonNode plan = told("/plan", Map.of());
    assertThat(plan.path("charts").path("corridor").asText()).startsWith("<svg");
    assertThat(plan.path("reviews")).hasSize(1);
    JsonNode run = told("/run", Map.of("run", "3"));
    assertThat(run.path("note").asText()).contains("<img");
    assertThat(run.path("corridor").asText()).startsWith("<svg");
    assertThat(ask("/plan.pdf", Map.of()).orElseThrow().fileName()).isEqualTo("review.pdf");
    assertThat(ask("/run.pdf", Map.of("run", "3")).orElseThrow().type())
        .isEqualTo("application/pdf");
  }

  @Test
  void the_page_is_told_what_it_asked_wrongly() throws Exception {
    assertThat(ask("/run", Map.of("run", "77")).orElseThrow().status()).isEqualTo(404);
    assertThat(ask("/run", Map.of("run", "x")).orElseThrow().status()).isEqualTo(400);
    assertThat(ask("/runs", Map.of("from", "yesterday")).orElseThrow().status()).isEqualTo(400);
    assertThat(ask("/runs", Map.of("feedback", "loud")).orElseThrow().status()).isEqualTo(400);
    assertThat(ask("/plan", Map.of("review", "9")).orElseThrow().status()).isEqualTo(404);
    assertThat(ask("/plan", Map.of("text", "nothing")).orElseThrow().status()).isEqualTo(404);
    assertThat(ask("/other", Map.of())).isEmpty();
  }
}
