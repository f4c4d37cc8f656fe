package pourwright.web;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.util.Callback;

/** Writes answers. */
final class Replies {
  private Replies() {}

  static void json(Response response, Callback callback, int status, String json) {
    response.getHeaders().put(HttpHeader.CACHE_CONTROL, "no-store");
    bytes(
        response,
        callback,
        status,
        "application/json; charset=utf-8",
        json.getBytes(StandardCharsets.UTF_8));
  }

  static void error(Response response, Callback callback, int status, String why) {
    json(
        response,
        callback,
        status,
        JsonNodeFactory.instance.objectNode().put("error", why).toString());
  }

  static void answer(Response response, Callback callback, Answer answer) {
    response.getHeaders().put(HttpHeader.CACHE_CONTROL, "no-store");
    if (!answer.fileName().isEmpty()) {
      response
          .getHeaders()
          .put(
              HttpHeader.CONTENT_DISPOSITION, "attachment; filename=\"" + answer.fileName() + "\"");
    }
    bytes(response, callback, answer.status(), answer.type(), answer.content());
  }

  static void bytes(Response response, Callback callback, int status, String type, byte[] content) {
    response.setStatus(status);
    response.getHeaders().put(HttpHeader.CONTENT_TYPE, type);
    response.write(true, ByteBuffer.wrap(content), callback);
  }
}
