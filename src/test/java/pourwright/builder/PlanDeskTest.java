package pourwright.builder;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.plan.Plans;
import pourwright.web.Answer;
import pourwright.web.Question;

class PlanDeskTest {
  private static final String SHARES =
      """
      "title": "Trial", "dose_g": 20, "water_g": 300, "temp_c": 93, "step_g": 1,
      "shares": {"opening_pct": 40, "first_g": 50, "closing": [1, 1, 1], "flow_g_per_s": 6,
                 "start": "clock", "seconds": 45}
      """;

  private final Path folder;
  private final List<String> askedFor = new ArrayList<>();
  private final PlanDesk desk;

  PlanDeskTest(@TempDir Path folder) {
    this.folder = folder.resolve("plans");
    this.desk =
        new PlanDesk(
            this.folder,
            (title, areSimulated) -> {
              askedFor.add(title + " " + areSimulated);
              return List.of();
            });
  }

  private Answer ask(boolean isRead, String what, Map<String, String> parameters, String body) {
    return desk.answer(new Question(isRead, "/api/v1/plan/" + what, parameters, body))
        .orElseThrow();
  }

  private Answer tell(String what, String body) {
    return ask(false, what, Map.of(), body);
  }

  private static JsonNode json(Answer answer) throws IOException {
    return new ObjectMapper().readTree(new String(answer.content(), StandardCharsets.UTF_8));
  }

  private static String error(Answer answer) throws IOException {
    return json(answer).path("error").asText();
  }

  @Test
  void a_draft_by_shares_is_foreseen() throws IOException {
    JsonNode told = json(tell("foresee", "{" + SHARES + "}"));

    assertThat(told.path("problems")).isEmpty();
    assertThat(told.path("plan").path("pours").path(1).path("add_g").asDouble()).isEqualTo(70);
    assertThat(told.path("text").asText()).startsWith("format: 1");
    assertThat(told.path("scheme").path("closing_pours").asInt()).isEqualTo(3);
    assertThat(told.path("cup")).isEmpty();
    assertThat(told.path("forecast").path("pours")).hasSize(5);
    assertThat(askedFor).containsExactly("Trial false");
  }

  @Test
  void a_change_is_told_against_what_it_was() throws IOException {
    String was =
        ", \"was\": {\"ratio\": 15, \"first_of_opening\": 0.6, \"closing_pours\": 2,"
            + " \"waits_for_bed\": true, \"kettle_c\": 90}";
    JsonNode told = json(tell("foresee", "{" + SHARES + was + "}"));
    List<String> says = new ArrayList<>();
    told.path("cup").forEach(sentence -> says.add(sentence.asText()));
    assertThat(says)
        .containsExactly(
            "A smaller first pour in the opening favours sweetness.",
            "More closing pours give a stronger cup.",
            "Pouring before the bed has drained lowers extraction.",
            "Hotter water draws out more, and faster.");
  }

  @Test
  void pours_one_by_one_and_a_kit_are_foreseen() throws IOException {
    String body =
        """
        {"dose_g": 20, "rig": "split", "learn": "simulated",
         "kit": {"dripper": "flat", "across_mm": 75, "rim_mm": 60, "kettle_g": 300, "fill_g": 250,
                 "stays_g": 20, "rinse_g": 50, "base": true, "heater_w": 1000,
                 "loss_w_per_k": 0.6, "most_flow_g_per_s": 5, "cooler_c": 3, "room_c": 20,
                 "limit_s": 200},
         "pours": [{"add_g": 60, "flow_g_per_s": 6, "start": "clock", "seconds": 0},
                   {"add_g": 100, "flow_g_per_s": 5, "start": "drained", "seconds": 45},
                   {"add_g": 110, "flow_g_per_s": 5, "start": "gap", "seconds": 30}]}
        """;
    JsonNode told = json(tell("foresee", body));
    assertThat(kinds(told)).contains("kettle_flow", "kettle_short");
    assertThat(told.path("text").asText()).contains("rig: split", "title: Trial", "water_g: 270");
    assertThat(askedFor).containsExactly("Trial true");
  }

  @Test
  void refills_fill_the_kettle_as_many_as_there_are() throws IOException {
    String kit =
        """
        , "kit": {"dripper": "cone", "across_mm": 16, "rim_mm": 80, "kettle_g": 900, "fill_g": 200,
                  "stays_g": 20, "rinse_g": 50, "heater_w": 1000, "loss_w_per_k": 0.6,
                  "most_flow_g_per_s": 12, "cooler_c": 30, "room_c": 20, "limit_s": 900,
                  "refills": [REFILLS]}}
        """;
    String first = "{\"refill_g\": 100, \"refill_s\": 80, \"refill_c\": 95}";
    String second = "{\"refill_g\": GRAMS, \"refill_s\": 120, \"refill_c\": 95}";
    String none = second.replace("GRAMS", "0");
    String both = first + ", " + second.replace("GRAMS", "100");
    for (String few : List.of("", first, first + ", " + none)) {
      assertThat(kinds(json(tell("foresee", "{" + SHARES + kit.replace("REFILLS", few)))))
          .contains("kettle_short");
    }
    assertThat(kinds(json(tell("foresee", "{" + SHARES + kit.replace("REFILLS", both)))))
        .doesNotContain("kettle_short");
    assertThat(
            error(
                tell(
                    "foresee",
                    "{"
                        + SHARES
                        + kit.replace(
                            "REFILLS", second.replace("GRAMS", "100").replace("95", "195")))))
        .isEqualTo("Refill must lie between 0 and 100.");
  }

  private static List<String> kinds(JsonNode told) {
    List<String> kinds = new ArrayList<>();
    told.path("forecast")
        .path("troubles")
        .forEach(trouble -> kinds.add(trouble.path("kind").asText()));
    return kinds;
  }

  @Test
  void runs_are_read_once_until_a_page_opens_again() {
    tell("foresee", "{" + SHARES + "}");
    tell("foresee", "{" + SHARES + "}");
    tell("foresee", "{" + SHARES + ", \"learn\": \"none\"}");
    assertThat(askedFor).hasSize(1);
    ask(true, "list", Map.of(), "");
    tell("foresee", "{" + SHARES + "}");
    assertThat(askedFor).hasSize(2);
  }

  @Test
  void what_makes_no_plan_says_why() throws IOException {
    JsonNode told = json(tell("foresee", "{" + SHARES.replace("50,", "150,") + "}"));
    assertThat(told.path("problems").path(0).asText()).contains("more than the opening");
    assertThat(told.has("plan")).isFalse();
    assertThat(
            json(tell("foresee", "{\"dose_g\": 20, \"pours\": []}"))
                .path("problems")
                .path(0)
                .asText())
        .contains("at least one pour");
    assertThat(
            json(tell(
                    "foresee",
                    "{\"dose_g\": 20, \"pours\": [{\"add_g\": 0, \"flow_g_per_s\": 5,"
                        + " \"seconds\": 0}]}"))
                .path("problems")
                .path(0)
                .asText())
        .contains("pour 1 needs a mass");
  }

  @Test
  void a_plan_is_saved_listed_opened_and_replaced_only_when_told() throws IOException {
    String named = "{" + SHARES + ", \"name\": \"heat 7\"}";
    Answer saved = tell("save", named);
    assertThat(saved.status()).isEqualTo(200);
    Path file = folder.resolve("heat 7.yaml");
    assertThat(json(saved).path("file").asText()).isEqualTo(file.toString());
    assertThat(Plans.read(Files.readString(file)).pours()).hasSize(5);
    assertThat(json(ask(true, "list", Map.of(), ""))).hasSize(1);

    Answer again = tell("save", named.replace("\"dose_g\": 20", "\"dose_g\": 21"));
    assertThat(again.status()).isEqualTo(409);
    assertThat(error(again)).contains("already");
    assertThat(Files.readString(file)).contains("dose_g: 20");
    Answer replaced =
        tell(
            "save",
            named
                .replace("\"dose_g\": 20", "\"dose_g\": 21")
                .replace("\"name\"", "\"replace\": true, \"name\""));
    assertThat(replaced.status()).isEqualTo(200);
    assertThat(Files.readString(file)).contains("dose_g: 21");

    JsonNode opened = json(ask(true, "open", Map.of("name", "heat 7"), ""));
    assertThat(opened.path("dose_g").asDouble()).isEqualTo(21);
    assertThat(opened.path("pours").path(1).path("seconds").asDouble()).isEqualTo(45);
    assertThat(ask(true, "open", Map.of("name", "none"), "").status()).isEqualTo(404);
  }

  @Test
  void what_the_page_does_not_show_of_a_saved_plan_is_kept() throws IOException {
    Files.createDirectories(folder);
    Files.writeString(folder.resolve("demo.yaml"), Plans.demoText());
    JsonNode opened = json(ask(true, "open", Map.of("name", "demo"), ""));
    assertThat(opened.path("pours").path(1).path("start").asText()).isEqualTo("drained");
    assertThat(opened.path("pours").path(2).path("start").asText()).isEqualTo("gap");
    assertThat(opened.path("strength_pct").asDouble()).isEqualTo(1.38);

    tell("save", "{" + SHARES + ", \"from\": \"demo\", \"name\": \"two\"}");
    assertThat(Plans.read(Files.readString(folder.resolve("two.yaml"))).talk())
        .isEqualTo(Plans.demo().talk())
        .isNotEmpty();
  }

  @Test
  void unreadable_files_are_no_plans() throws IOException {
    Files.createDirectories(folder);
    Files.write(folder.resolve("torn.yaml"), new byte[] {(byte) 0xff, (byte) 0xfe, 0x00});
    Files.writeString(folder.resolve("other.yaml"), "shopping: list");
    Files.writeString(folder.resolve("notes.txt"), "x");
    assertThat(json(ask(true, "list", Map.of(), ""))).hasSize(2);
    assertThat(ask(true, "open", Map.of("name", "torn"), "").status()).isEqualTo(404);
    assertThat(ask(true, "open", Map.of("name", "other"), "").status()).isEqualTo(404);
  }

  @Test
  void a_folder_that_cannot_be_written_is_told() throws IOException {
    Files.writeString(folder, "a file in its place");
    Answer said = tell("save", "{" + SHARES + ", \"name\": \"heat\"}");
    assertThat(said.status()).isEqualTo(500);
    assertThat(error(said)).startsWith("Not saved: ");
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "../out", "a/b", "x.yaml", ".hidden", "a\\u0000b", "C:x"})
  void a_name_reaches_nothing_but_a_plan_of_the_folder(String name) throws IOException {
    Answer said = tell("save", "{" + SHARES + ", \"name\": \"" + name + "\"}");
    assertThat(said.status()).isEqualTo(400);
    assertThat(error(said)).contains("Name the plan");
    assertThat(Files.exists(folder)).isFalse();
    assertThat(ask(true, "open", Map.of("name", name), "").status()).isEqualTo(400);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "no json|This is no JSON",
        "[]|A JSON object is needed",
        "{\"shares\": 5}|must be an object",
        "{\"shares\": {}}|Seconds is missing",
        "{\"pours\": 5}|must be a list",
        "{\"pours\": [{\"add_g\": 1e9}]}|Add must lie between 0 and 5000.",
        "{\"title\": 5, \"dose_g\": 5, \"pours\": [{\"add_g\": 9, \"flow_g_per_s\": 5, \"seconds\": 0}]}|Title must be text",
        "{\"dose_g\": 5, \"pours\": [{\"add_g\": 9, \"flow_g_per_s\": 5, \"seconds\": 0, \"start\": \"x\"}]}|clock, drained or gap",
        "{\"dose_g\": 5, \"rig\": \"x\", \"pours\": [{\"add_g\": 9, \"flow_g_per_s\": 5, \"seconds\": 0}]}|The rig is",
        "{\"dose_g\": 5, \"learn\": \"x\", \"pours\": [{\"add_g\": 9, \"flow_g_per_s\": 5, \"seconds\": 0}]}|Learn from",
        "{\"dose_g\": 5, \"kit\": {}, \"pours\": [{\"add_g\": 9, \"flow_g_per_s\": 5, \"seconds\": 0}]}|is missing",
      })
  void what_cannot_be_read_is_refused_in_plain_words(String body, String said) throws IOException {
    Answer answer = tell("foresee", body);
    assertThat(answer.status()).isEqualTo(400);
    assertThat(error(answer)).contains(said);
  }

  @Test
  void other_questions_are_for_other_desks() {
    assertThat(desk.answer(new Question(true, "/api/v1/review/list", Map.of(), ""))).isEmpty();
    assertThat(desk.answer(new Question(true, "/api/v1/plan/save", Map.of(), ""))).isEmpty();
    assertThat(desk.answer(new Question(false, "/api/v1/plan/list", Map.of(), "{}"))).isEmpty();
  }

  @Test
  void a_journal_that_cannot_be_read_is_told() throws IOException {
    PlanDesk broken =
        new PlanDesk(
            folder,
            (title, areSimulated) -> {
              throw new IOException("The journal cannot be read.");
            });
    Answer said =
        broken
            .answer(new Question(false, "/api/v1/plan/foresee", Map.of(), "{" + SHARES + "}"))
            .orElseThrow();
    assertThat(said.status()).isEqualTo(500);
    assertThat(error(said)).isEqualTo("The journal cannot be read.");
  }
}
