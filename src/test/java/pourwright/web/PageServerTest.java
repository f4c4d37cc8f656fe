package pourwright.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIOException;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.WebSocket;
import java.net.http.WebSocketHandshakeException;
import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.coach.Feedback;

/** The server as other programs, and those who mean no good, meet it. */
class PageServerTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final HttpClient client = HttpClient.newHttpClient();
  private RehearsedPage page;

  @BeforeEach
  void open() throws Exception {
    page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.onPlan(1));
    page.playTo(3);
    page.awaitView(2.5);
  }

  @AfterEach
  void close() {
    page.close();
  }

  private HttpRequest.Builder to(String path) {
    return HttpRequest.newBuilder(page.address().resolve(path));
  }

  private HttpResponse<String> ask(HttpRequest.Builder request) throws Exception {
    return client.send(request.build(), HttpResponse.BodyHandlers.ofString());
  }

  private HttpResponse<String> post(String path, String body) throws Exception {
    return ask(
        to(path)
            .header("Content-Type", "application/json")
            .POST(HttpRequest.BodyPublishers.ofString(body)));
  }

  private String rawPost(String body) throws IOException {
    return raw(
        "POST /api/v1/commands HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nConnection: close\r\n"
                .formatted(page.address().getPort())
            + "Content-Type: application/json\r\nContent-Length: %d\r\n\r\n%s"
                .formatted(body.length(), body));
  }

  /** A request as it stands, for what a well-behaved client does not send. */
  private String raw(String request) throws IOException {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), page.address().getPort())) {
      socket.setSoTimeout(10_000);
      OutputStream out = socket.getOutputStream();
      out.write(request.getBytes(StandardCharsets.ISO_8859_1));
      out.flush();
      return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  private String rawGet(String path, String... headers) throws IOException {
    return raw(
        "GET "
            + path
            + " HTTP/1.1\r\nConnection: close\r\n"
            + String.join("\r\n", headers)
            + "\r\n\r\n");
  }

  @Test
  void the_page_comes_with_headers_that_keep_browsers_strict() throws Exception {
    HttpResponse<String> answer = ask(to("/"));
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Content-Security-Policy"))
        .hasValueSatisfying(
            policy ->
                assertThat(policy)
                    .contains("default-src 'none'", "script-src 'self'", "frame-ancestors 'none'")
                    .doesNotContain("unsafe", "*"));
    assertThat(answer.headers().firstValue("X-Content-Type-Options")).hasValue("nosniff");
    assertThat(answer.headers().firstValue("Server")).isEmpty();
    String tag = answer.headers().firstValue("ETag").orElseThrow();
    assertThat(ask(to("/").header("If-None-Match", tag)).statusCode()).isEqualTo(304);
  }

  @Test
  void a_name_that_was_pointed_here_is_not_answered() throws Exception {
    assertThat(rawGet("/api/v1/view", "Host: evil.example:" + page.address().getPort()))
        .startsWith("HTTP/1.1 421")
        .doesNotContain("poured");
    assertThat(rawGet("/api/v1/view", "Host: 127.0.0.1:" + page.address().getPort()))
        .startsWith("HTTP/1.1 200");
  }

  @Test
  void a_stream_for_another_origin_is_not_opened() {
    CompletableFuture<WebSocket> opened =
        client
            .newWebSocketBuilder()
            .header("Origin", "http://evil.example")
            .buildAsync(stream(), new Ear());
    assertThat(opened)
        .failsWithin(java.time.Duration.ofSeconds(10))
        .withThrowableOfType(java.util.concurrent.ExecutionException.class)
        .withCauseInstanceOf(WebSocketHandshakeException.class);
  }

  private URI stream() {
    return URI.create("ws://127.0.0.1:" + page.address().getPort() + "/api/v1/live");
  }

  @Test
  void a_program_reads_run_view_and_outcome() throws Exception {
    JsonNode run = JSON.readTree(ask(to("/api/v1/run")).body());
    assertThat(run.at("/lanes/0/plan/pours/1/start_clock_s").asDouble()).isEqualTo(48);
    assertThat(run.at("/lanes/0/plan/pours/1/rule").asText()).isEqualTo("drained");
    JsonNode view = JSON.readTree(ask(to("/api/v1/view")).body());
    assertThat(view.at("/phase").asText()).isEqualTo("armed");
    assertThat(view.at("/lanes/0/guide/next/add_g").asDouble()).isEqualTo(42);
    assertThat(ask(to("/api/v1/outcome")).statusCode()).isEqualTo(404);
    page.playTo(ScriptedBrew.END);
    page.awaitEnd();
    JsonNode outcome = JSON.readTree(ask(to("/api/v1/outcome")).body());
    assertThat(outcome.at("/why").asText()).isEqualTo("lifted");
    assertThat(outcome.at("/lanes/0/judged")).hasSize(4);
    assertThat(outcome.at("/lanes/0/curve/g")).hasSizeGreaterThan(10);
    assertThat(outcome.at("/work_on").asText()).isNotBlank();
    assertThat(post("/api/v1/commands", "{\"do\":\"void\"}").statusCode()).isEqualTo(400);
  }

  @Test
  void a_stream_gives_the_run_then_views_with_every_point_once_then_the_outcome() throws Exception {
    Ear ear = new Ear();
    client.newWebSocketBuilder().buildAsync(stream(), ear).get(10, TimeUnit.SECONDS);
    assertThat(ear.next().at("/type").asText()).isEqualTo("run");
    int shown = 0;
    for (double until = 5; until < 150; until += 5) {
      page.playTo(until);
      page.awaitView(until - 1);
      shown++;
    }
    page.playTo(ScriptedBrew.END);
    int points = 0;
    JsonNode message = ear.next();
    while (!message.at("/type").asText().equals("outcome")) {
      for (JsonNode stretch : message.at("/trace")) {
        assertThat(stretch.at("/from").asInt()).isEqualTo(points);
        points += stretch.at("/s").size();
      }
      message = ear.next();
    }
    assertThat(points).isGreaterThanOrEqualTo(shown);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "{", "[1]", "{\"do\":\"dance\"}", "{\"do\":\"tare\"}", "\u0000"})
  void a_message_that_makes_no_sense_is_refused_and_the_run_goes_on(String body) throws Exception {
    HttpResponse<String> answer = post("/api/v1/commands", body);
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(JSON.readTree(answer.body()).at("/error").asText()).isNotBlank();
    page.playTo(10);
    page.awaitView(9);
  }

  @Test
  void too_much_is_too_much() throws Exception {
    // Told from its length alone, before a byte of it is read.
    assertThat(
            raw(
                "POST /api/v1/commands HTTP/1.1\r\nHost: 127.0.0.1:"
                    + page.address().getPort()
                    + "\r\nContent-Type: application/json\r\nContent-Length: 5000\r\n\r\n"))
        .startsWith("HTTP/1.1 413");
    assertThat(
            rawGet(
                "/", "Host: 127.0.0.1:" + page.address().getPort(), "X-Long: " + "x".repeat(9_000)))
        .startsWith("HTTP/1.1 431");
    HttpRequest untyped =
        to("/api/v1/commands").POST(HttpRequest.BodyPublishers.ofString("{}")).build();
    // a refused body is left unread and its connection closed: the next request must not use it
    HttpClient once = HttpClient.newHttpClient();
    assertThat(once.send(untyped, HttpResponse.BodyHandlers.ofString()).statusCode())
        .isEqualTo(415);
    assertThat(ask(to("/").DELETE()).statusCode()).isEqualTo(405);
    assertThat(ask(to("/etc/passwd")).statusCode()).isEqualTo(404);
    assertThat(ask(to("/%2e%2e/page.css")).statusCode()).isIn(400, 404);
    int refused = 0;
    for (int i = 0; i < 40; i++) {
      // a refused body is left unread and its connection closed, so each try has one of its own
      refused += rawPost("{\"do\":\"fly\"}").startsWith("HTTP/1.1 429") ? 1 : 0;
    }
    assertThat(refused).isPositive();
  }

  @Test
  void a_client_that_reads_nothing_holds_nobody_up() throws Exception {
    try (Socket sleeper = new Socket()) {
      sleeper.setReceiveBufferSize(4_096);
      sleeper.connect(
          new InetSocketAddress(InetAddress.getLoopbackAddress(), page.address().getPort()));
      String upgrade =
          "GET /api/v1/live HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nUpgrade: websocket\r\n"
                  .formatted(page.address().getPort())
              + "Connection: Upgrade\r\nSec-WebSocket-Version: 13\r\n"
              + "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n";
      sleeper.getOutputStream().write(upgrade.getBytes(StandardCharsets.US_ASCII));
      Ear ear = new Ear();
      client.newWebSocketBuilder().buildAsync(stream(), ear).get(10, TimeUnit.SECONDS);
      page.playTo(ScriptedBrew.END);
      page.awaitEnd();
      JsonNode message = ear.next();
      while (!message.at("/type").asText().equals("outcome")) {
        message = ear.next();
      }
    }
  }

  @Test
  void who_talks_into_the_stream_is_shown_out() throws Exception {
    Ear ear = new Ear();
    WebSocket socket =
        client.newWebSocketBuilder().buildAsync(stream(), ear).get(10, TimeUnit.SECONDS);
    for (int i = 0; i < 5; i++) {
      socket.sendText("hello", true).get(10, TimeUnit.SECONDS);
    }
    assertThat(ear.closed.get(10, TimeUnit.SECONDS)).isEqualTo(1008);
    page.playTo(10);
    page.awaitView(9);
  }

  @Test
  void a_port_in_use_is_told_in_a_sentence() throws Exception {
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      int port = taken.getLocalPort();
      Pairing pairing = new Pairing(new SecureRandom(), System::nanoTime, code -> {});
      assertThatIOException()
          .isThrownBy(
              () ->
                  PageServer.open(
                      new PageSettings(port, false), new LivePage(), pairing, List.of()))
          .withMessageStartingWith("Port " + port + " of this machine cannot be had for the page");
    }
  }

  /** Keeps what a stream says. */
  private static final class Ear implements WebSocket.Listener {
    final CompletableFuture<Integer> closed = new CompletableFuture<>();
    private final LinkedBlockingQueue<String> messages = new LinkedBlockingQueue<>();
    private final List<CharSequence> parts = new ArrayList<>();

    @Override
    public @Nullable CompletionStage<?> onText(WebSocket socket, CharSequence data, boolean last) {
      parts.add(data.toString());
      if (last) {
        messages.add(String.join("", parts));
        parts.clear();
      }
      socket.request(1);
      return null;
    }

    @Override
    public @Nullable CompletionStage<?> onClose(WebSocket socket, int status, String reason) {
      closed.complete(status);
      return null;
    }

    JsonNode next() throws Exception {
      String message = messages.poll(20, TimeUnit.SECONDS);
      assertThat(message).as("the stream fell silent").isNotNull();
      return JSON.readTree(message == null ? "{}" : message);
    }
  }
}
