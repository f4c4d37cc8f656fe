package pourwright.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class DeskTest {
  private static final Desk ECHO =
      question ->
          question.path().equals("/api/v1/echo")
              ? Optional.of(
                  question.isRead()
                      ? Answer.json("{\"q\":\"" + question.findParameter("q").orElse("") + "\"}")
                      : Answer.no(409, "not now: " + question.body()))
              : Optional.empty();
  private static final Desk PRINTER =
      question ->
          question.path().equals("/api/v1/print")
              ? Optional.of(
                  Answer.file(
                      "application/pdf", "run-7.pdf", "x".getBytes(StandardCharsets.US_ASCII)))
              : Optional.empty();

  private static HttpResponse<String> ask(HttpRequest.Builder request, String path)
      throws Exception {
    Pairing pairing = new Pairing(new SecureRandom(), System::nanoTime, code -> {});
    try (PageServer server =
        PageServer.open(
            new PageSettings(0, false), new LivePage(), pairing, List.of(ECHO, PRINTER))) {
      URI address = server.address().resolve(path);
      return HttpClient.newHttpClient()
          .send(request.uri(address).build(), HttpResponse.BodyHandlers.ofString());
    }
  }

  @Test
  void a_desk_is_asked_with_its_parameters() throws Exception {
    HttpResponse<String> said = ask(HttpRequest.newBuilder(), "/api/v1/echo?q=two%20words&q=more");
    assertThat(said.statusCode()).isEqualTo(200);
    assertThat(said.body()).isEqualTo("{\"q\":\"two words\"}");
    assertThat(said.headers().firstValue("Content-Type").orElse("")).contains("application/json");
  }

  @Test
  void a_desk_is_told_and_may_say_no() throws Exception {
    HttpResponse<String> said =
        ask(
            HttpRequest.newBuilder()
                .header("Content-Type", "application/json")
                .POST(HttpRequest.BodyPublishers.ofString("{}")),
            "/api/v1/echo");
    assertThat(said.statusCode()).isEqualTo(409);
    assertThat(said.body()).isEqualTo("{\"error\":\"not now: {}\"}");
  }

  @Test
  void a_file_is_offered_under_its_name() throws Exception {
    HttpResponse<String> said = ask(HttpRequest.newBuilder(), "/api/v1/print");
    assertThat(said.headers().firstValue("Content-Disposition"))
        .contains("attachment; filename=\"run-7.pdf\"");
  }

  @Test
  void what_no_desk_knows_is_not_there() throws Exception {
    assertThat(ask(HttpRequest.newBuilder(), "/api/v1/nothing").statusCode()).isEqualTo(404);
  }

  @Test
  void a_foreign_page_reaches_no_desk() throws Exception {
    HttpResponse<String> said =
        ask(HttpRequest.newBuilder().header("Sec-Fetch-Site", "cross-site"), "/api/v1/echo");
    assertThat(said.statusCode()).isEqualTo(403);
  }

  @Test
  void a_parameter_without_a_word_is_none() {
    Question question = new Question(true, "/api/v1/x", Map.of("plan", " "), "");
    assertThat(question.findParameter("plan")).isEmpty();
    assertThat(question.findParameter("other")).isEmpty();
  }

  @Test
  void a_file_name_that_could_break_the_header_is_refused() {
    assertThatThrownBy(() -> Answer.file("text/plain", "a\"\r\nX: y", new byte[0]))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
