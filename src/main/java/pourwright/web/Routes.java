package pourwright.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.eclipse.jetty.http.HttpCookie;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.io.Content;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.util.Callback;

/** Who has come through the door gets what is asked for; the paths are listed in {@code /api}. */
final class Routes extends Handler.Abstract {
  private static final String JSON = "application/json";
  private static final int COOKIE_SECONDS = 12 * 60 * 60;
  private static final double MOST_STRENGTH_PERCENT = 20;
  private static final int MOST_NOTE_CHARACTERS = 2_000;

  private final LivePage live;
  private final Pairing pairing;
  private final List<URI> lanAddresses;
  private final PageFiles files;
  private final List<Desk> desks;
  private final Throttle commands = new Throttle(20, 10, System::nanoTime);

  Routes(
      LivePage live, Pairing pairing, List<URI> lanAddresses, PageFiles files, List<Desk> desks) {
    this.live = live;
    this.pairing = pairing;
    this.lanAddresses = lanAddresses;
    this.files = files;
    this.desks = List.copyOf(desks);
  }

  @Override
  public boolean handle(Request request, Response response, Callback callback) throws Exception {
    String path = Request.getPathInContext(request);
    switch (request.getMethod()) {
      case "GET", "HEAD" -> read(path, request, response, callback);
      case "POST" -> write(path, request, response, callback);
      default -> {
        response.getHeaders().put(HttpHeader.ALLOW, "GET, HEAD, POST");
        Replies.error(response, callback, 405, "Only GET and POST are answered.");
      }
    }
    return true;
  }

  private void read(String path, Request request, Response response, Callback callback) {
    switch (path) {
      case "/api/v1/run" -> text(live.runText(), "No run has begun yet.", response, callback);
      case "/api/v1/view" -> text(live.viewText(), "No run has begun yet.", response, callback);
      case "/api/v1/outcome" ->
          text(live.outcomeText(), "The run is not over yet.", response, callback);
      case "/api/v1/sounds" -> Replies.json(response, callback, 200, PageJson.sounds());
      case Door.PAIRING_CALL -> showPairing(request, response, callback);
      case "/api/v1/pairing.svg" -> drawPairing(request, response, callback);
      case "/api/v1/live" ->
          Replies.error(response, callback, 426, "This is a WebSocket; ask for an upgrade.");
      default -> {
        if (!ask(true, path, "", request, response, callback)) {
          file(path, request, response, callback);
        }
      }
    }
  }

  private boolean ask(
      boolean isRead,
      String path,
      String body,
      Request request,
      Response response,
      Callback callback) {
    if (!path.startsWith(Door.API)) {
      return false;
    }
    Map<String, String> parameters = new HashMap<>();
    Request.extractQueryParameters(request)
        .forEach(field -> parameters.put(field.getName(), field.getValue()));
    Question question = new Question(isRead, path, parameters, body);
    Optional<Answer> answer =
        desks.stream().map(desk -> desk.answer(question)).flatMap(Optional::stream).findFirst();
    answer.ifPresent(given -> Replies.answer(response, callback, given));
    return answer.isPresent();
  }

  private static void text(
      Optional<String> json, String whyNot, Response response, Callback callback) {
    if (json.isPresent()) {
      Replies.json(response, callback, 200, json.get());
    } else {
      Replies.error(response, callback, 404, whyNot);
    }
  }

  private void file(String path, Request request, Response response, Callback callback) {
    Optional<PageFiles.PageFile> found = files.find(path);
    if (found.isEmpty()) {
      Replies.error(response, callback, 404, "There is nothing here.");
      return;
    }
    PageFiles.PageFile file = found.get();
    response.getHeaders().put(HttpHeader.ETAG, file.tag());
    response.getHeaders().put(HttpHeader.CACHE_CONTROL, "no-cache");
    if (file.tag().equals(request.getHeaders().get(HttpHeader.IF_NONE_MATCH))) {
      response.setStatus(304);
      callback.succeeded();
      return;
    }
    Replies.bytes(response, callback, 200, file.type(), file.content());
  }

  /** The code is shown on this machine only: who stands before it may let others in. */
  private void showPairing(Request request, Response response, Callback callback) {
    if (!isOwnMachine(request)) {
      Replies.error(response, callback, 403, "The code is shown on the brewer's machine only.");
      return;
    }
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("open", !lanAddresses.isEmpty());
    if (!lanAddresses.isEmpty()) {
      node.put("code", pairing.code());
      ArrayNode addresses = node.putArray("addresses");
      lanAddresses.forEach(address -> addresses.add(address.toString()));
    }
    Replies.json(response, callback, 200, node.toString());
  }

  private void drawPairing(Request request, Response response, Callback callback) {
    if (!isOwnMachine(request) || lanAddresses.isEmpty()) {
      Replies.error(response, callback, 404, "There is no code to show.");
      return;
    }
    response.getHeaders().put(HttpHeader.CACHE_CONTROL, "no-store");
    Replies.bytes(
        response,
        callback,
        200,
        "image/svg+xml",
        QrCode.of(PageServer.pairingLink(lanAddresses.get(0), pairing.code()))
            .toSvg()
            .getBytes(StandardCharsets.UTF_8));
  }

  private static boolean isOwnMachine(Request request) {
    return PageServer.isLoopback(request.getConnectionMetaData().getRemoteSocketAddress());
  }

  private void write(String path, Request request, Response response, Callback callback)
      throws IOException {
    String type = Optional.ofNullable(request.getHeaders().get(HttpHeader.CONTENT_TYPE)).orElse("");
    if (!type.toLowerCase(Locale.ROOT).startsWith(JSON)) {
      Replies.error(response, callback, 415, "Send JSON, and say so in Content-Type.");
      return;
    }
    if (!commands.tryPass()) {
      Replies.error(response, callback, 429, "Too many requests at once. Wait a moment.");
      return;
    }
    String body = Content.Source.asString(request, StandardCharsets.UTF_8);
    try {
      switch (path) {
        case Door.PAIRING_CALL -> pair(Told.code(body), response, callback);
        case "/api/v1/commands" -> {
          live.obey(Told.command(body));
          Replies.json(response, callback, 202, "{\"accepted\":true}");
        }
        case "/api/v1/reveal" -> {
          Told.only(Told.object(body), true);
          live.reveal();
          Replies.json(response, callback, 202, "{\"accepted\":true}");
        }
        case "/api/v1/afterword" -> {
          afterword(Told.object(body));
          Replies.json(response, callback, 200, "{\"kept\":true}");
        }
        default -> {
          if (!ask(false, path, body, request, response, callback)) {
            Replies.error(response, callback, 404, "There is nothing here.");
          }
        }
      }
    } catch (BadMessage bad) {
      Replies.error(response, callback, 400, Optional.ofNullable(bad.getMessage()).orElse(""));
    } catch (IOException unkept) {
      Replies.error(
          response, callback, 500, Optional.ofNullable(unkept.getMessage()).orElse("Not kept."));
    }
  }

  private void afterword(JsonNode node) throws BadMessage, IOException {
    int lane = Told.only(node, Told.whole(node, "lane", 1, 64), "lane", "strength_pct", "note");
    OptionalDouble strength =
        node.hasNonNull("strength_pct")
            ? OptionalDouble.of(Told.number(node, "strength_pct", 0, MOST_STRENGTH_PERCENT))
            : OptionalDouble.empty();
    Optional<String> note =
        node.hasNonNull("note")
            ? Optional.of(Told.string(node, "note")).filter(text -> !text.isBlank())
            : Optional.empty();
    if (note.filter(text -> text.length() > MOST_NOTE_CHARACTERS).isPresent()) {
      throw new BadMessage("A note has at most " + MOST_NOTE_CHARACTERS + " characters.");
    }
    live.addAfterword(lane, strength, note);
  }

  private void pair(String code, Response response, Callback callback) {
    Pairing.Result result = pairing.offer(code);
    if (result instanceof Pairing.Result.Paired paired) {
      Response.addCookie(
          response,
          HttpCookie.build(DoorHandler.COOKIE, paired.token())
              .path("/")
              .httpOnly(true)
              .sameSite(HttpCookie.SameSite.STRICT)
              .maxAge(COOKIE_SECONDS)
              .build());
      Replies.json(response, callback, 200, "{\"paired\":true}");
    } else if (result instanceof Pairing.Result.NotNow notNow) {
      Replies.error(response, callback, 429, notNow.why());
    } else {
      Replies.error(
          response, callback, 403, "That is not the code. It is shown on the brewer's machine.");
    }
  }
}
