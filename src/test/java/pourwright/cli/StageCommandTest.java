package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import pourwright.web.Answer;
import pourwright.web.Question;

class StageCommandTest {
  private static final String PLAN =
      """
      format: 1
      dose_g: 15
      water_g: 120
      pours:
        - {add_g: 60, flow_g_per_s: 6, start: {at_s: 0}}
        - {add_g: 60, flow_g_per_s: 6, start: {at_s: 30}}
      """;

  private final Path folder;

  StageCommandTest(@TempDir Path folder) {
    this.folder = folder;
  }

  private Path routine(String more) throws Exception {
    Files.writeString(folder.resolve("plan.yaml"), PLAN);
    return Files.writeString(
        folder.resolve("routine.yaml"),
        "format: 1\ntitle: Two\nbrewers:\n- {name: left, plan: plan.yaml}\n"
            + "- {name: right, plan: plan.yaml}\n"
            + more);
  }

  @Test
  void the_timetable_is_told_in_words_with_its_proof_and_its_chances() throws Exception {
    Ran ran = Ran.pourwright("stage", "solve", routine("").toString(), "--trials", "200");
    assertThat(ran.status()).as(ran.err()).isZero();
    assertThat(ran.out())
        .startsWith("Two\nDone by ")
        .contains("every pour at its moment", "Proven best.")
        .containsPattern("left +pour 1: 60 g  to 60 g, in 10 s")
        .containsPattern("right +pour 2: 60 g  to 120 g, in 10 s")
        .contains("200 routines played with dice (seed 7", "Boiling water", "rule book");
  }

  @Test
  void json_is_one_document_that_holds_every_job() throws Exception {
    Ran ran =
        Ran.pourwright(
            "stage", "solve", routine("").toString(), "--trials", "50", "--format", "json");
    JsonNode node = new JsonMapper().readTree(ran.out());
    assertThat(node.path("format").asInt()).isEqualTo(1);
    assertThat(node.path("verdict").asText()).isEqualTo("planned");
    assertThat(node.path("proven").asBoolean()).isTrue();
    assertThat(node.path("jobs")).hasSize(14);
    assertThat(node.path("odds").path("trials").asInt()).isEqualTo(50);
    int last = 0;
    for (JsonNode job : node.path("jobs")) {
      assertThat(job.path("start_s").asInt()).isGreaterThanOrEqualTo(last);
      last = job.path("end_s").asInt();
    }
    assertThat(last).isEqualTo(node.path("end_s").asInt());
  }

  @Test
  void rules_that_clash_are_named_and_the_status_says_failed() throws Exception {
    Ran ran = Ran.pourwright("stage", "solve", routine("limit_s: 60\nreserve_s: 5\n").toString());
    assertThat(ran.status()).isEqualTo(1);
    assertThat(ran.out())
        .contains("No timetable keeps all of these; leave out any one and the rest can be kept:")
        .contains("- everything is done by 0:55 (limit 1:00, reserve 5 s)");
  }

  @Test
  void a_sturdy_timetable_says_what_it_leaves_to_spare() throws Exception {
    Ran ran =
        Ran.pourwright(
            "stage",
            "solve",
            routine("").toString(),
            "--robust",
            "--trials",
            "300",
            "--format",
            "json");
    JsonNode sturdy = new JsonMapper().readTree(ran.out());
    Ran plain =
        Ran.pourwright(
            "stage", "solve", routine("").toString(), "--trials", "300", "--format", "json");
    assertThat(sturdy.path("odds").path("all_well").path("share").asDouble())
        .isGreaterThanOrEqualTo(
            new JsonMapper()
                .readTree(plain.out())
                .path("odds")
                .path("all_well")
                .path("share")
                .asDouble());
    assertThat(sturdy.has("margin_s")).isTrue();
  }

  @Test
  void what_is_wrong_with_a_routine_is_told_with_its_line() throws Exception {
    Path wrong =
        Files.writeString(
            folder.resolve("wrong.yaml"), "format: 1\nbrewers: [{plan: gone.yaml}]\n");
    Ran ran = Ran.pourwright("stage", "solve", wrong.toString());
    assertThat(ran.status()).isEqualTo(1);
    assertThat(ran.err()).contains("gone.yaml: no such file", "wrong.yaml:2:18");
    assertThat(ran.out()).isEmpty();
    assertThat(Ran.pourwright("stage").status()).isEqualTo(2);
    assertThat(Ran.pourwright("stage", "solve", "--trials", "0").status()).isEqualTo(1);
  }

  @Test
  void the_card_is_a_pdf_and_the_samples_can_be_read_back() throws Exception {
    Path card = folder.resolve("card.pdf");
    Ran ran =
        Ran.pourwright(
            "stage", "card", routine("").toString(), "--out", card.toString(), "--paper", "A4");
    assertThat(ran.status()).as(ran.err()).isZero();
    assertThat(Files.readAllBytes(card)).startsWith("%PDF".getBytes(StandardCharsets.US_ASCII));

    Path event = folder.resolve("event.yaml");
    Files.writeString(event, Ran.pourwright("stage", "sample", "--event").out());
    assertThat(Ran.pourwright("stage", "sample").out()).contains("brewers:");
    Ran again =
        Ran.pourwright(
            "stage", "solve", routine("event: event.yaml\n").toString(), "--trials", "1");
    assertThat(again.status()).as(again.err()).isZero();
  }

  @Test
  void a_mock_run_says_every_job_in_turn_and_ends_with_the_routine() throws Exception {
    Ran ran =
        Ran.pourwright(
            "stage",
            "mock",
            routine("").toString(),
            "--speed",
            "1000",
            "--in",
            "1",
            "--no-page",
            "--data",
            folder.resolve("data").toString());
    assertThat(ran.status()).as(ran.err()).isZero();
    assertThat(ran.err())
        .contains("the clock starts in 1")
        .containsSubsequence(
            "left: pour 1: 60 g to 60 g",
            "right: pour 1: 60 g to 60 g",
            "left: pour 2: 60 g to 120 g",
            "right: pour 2: 60 g to 120 g",
            "left: take the dripper off",
            "done; the limit is 10:00");
    assertThat(Ran.pourwright("stage", "mock", routine("").toString(), "--speed", "0").status())
        .isEqualTo(2);
  }

  @Test
  void the_stage_clock_runs_stops_and_goes_on() {
    AtomicLong nanos = new AtomicLong(5_000_000_000L);
    StageClock clock = new StageClock(nanos::get, 2);
    assertThat(clock.seconds()).isEmpty();
    clock.startAt(10);
    clock.startAt(99); // runs already
    nanos.addAndGet(3_000_000_000L);
    assertThat(clock.seconds()).hasValue(16);
    clock.stop();
    nanos.addAndGet(3_000_000_000L);
    assertThat(clock.seconds()).hasValue(16);
    assertThat(clock.isRunning()).isFalse();
    clock.start();
    nanos.addAndGet(500_000_000L);
    assertThat(clock.seconds()).hasValue(17);
    clock.reset();
    assertThat(clock.seconds()).isEmpty();
  }

  @Test
  void the_stage_desk_tells_the_timetable_prints_the_card_and_minds_the_clock() throws Exception {
    StageOptions options = new StageOptions();
    new CommandLine(options).parseArgs(routine("").toString(), "--trials", "1");
    StageDesk desk =
        new StageDesk(
            options.staged(new PrintWriter(Writer.nullWriter()), new OpenJournal()),
            new StageClock(() -> 0, 1));
    JsonNode told = json(desk, true, "/api/v1/stage", "");
    assertThat(told.path("jobs")).hasSize(14);
    assertThat(json(desk, true, "/api/v1/stage/clock", "").path("running").asBoolean()).isFalse();
    assertThat(json(desk, false, "/api/v1/stage/clock", "{\"do\":\"start\"}").path("at_s").asInt())
        .isZero();
    assertThat(json(desk, true, "/api/v1/stage/clock", "").path("running").asBoolean()).isTrue();
    assertThat(
            json(desk, false, "/api/v1/stage/clock", "{\"do\":\"stop\"}")
                .path("running")
                .asBoolean())
        .isFalse();
    assertThat(json(desk, false, "/api/v1/stage/clock", "{\"do\":\"reset\"}").has("at_s"))
        .isFalse();
    assertThat(json(desk, false, "/api/v1/stage/clock", "{\"do\":\"jump\"}").has("error")).isTrue();
    assertThat(json(desk, false, "/api/v1/stage/clock", "{").has("error")).isTrue();
    Answer card = desk.answer(question(true, "/api/v1/stage/card.pdf", "")).orElseThrow();
    assertThat(card.fileName()).isEqualTo("stage-card-a5.pdf");
    assertThat(desk.answer(question(true, "/api/v1/elsewhere", ""))).isEmpty();
    assertThat(desk.answer(question(false, "/api/v1/stage", "{}"))).isEmpty();
  }

  private static Question question(boolean isRead, String path, String body) {
    return new Question(isRead, path, Map.of(), body);
  }

  private static JsonNode json(StageDesk desk, boolean isRead, String path, String body)
      throws Exception {
    Answer answer = desk.answer(question(isRead, path, body)).orElseThrow();
    return new JsonMapper().readTree(answer.content());
  }
}
