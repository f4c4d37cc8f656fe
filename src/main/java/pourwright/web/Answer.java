package pourwright.web;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.nio.charset.StandardCharsets;

/**
 * What a page is told.
 *
 * @param status of HTTP: 200 done, 400 wrongly asked, 404 not there, 409 not now, 500 not kept
 * @param type media type with its charset
 * @param content not changed any more
 * @param fileName what a browser calls it on disk; empty for what is only shown
 */
@SuppressWarnings("ArrayRecordComponent") // handed on once, to the server
public record Answer(int status, String type, byte[] content, String fileName) {

  public static Answer json(String json) {
    return text(200, "application/json; charset=utf-8", json);
  }

  /** No, and why, in one plain sentence. */
  public static Answer no(int status, String why) {
    return text(
        status,
        "application/json; charset=utf-8",
        JsonNodeFactory.instance.objectNode().put("error", why).toString());
  }

  public static Answer svg(String picture) {
    return text(200, "image/svg+xml; charset=utf-8", picture);
  }

  /** A file to keep; the name is of letters, digits, dots and dashes. */
  public static Answer file(String type, String fileName, byte[] content) {
    if (!fileName.matches("[A-Za-z0-9][A-Za-z0-9.-]*")) {
      throw new IllegalArgumentException("no plain file name: " + fileName);
    }
    return new Answer(200, type, content, fileName);
  }

  private static Answer text(int status, String type, String text) {
    return new Answer(status, type, text.getBytes(StandardCharsets.UTF_8), "");
  }
}
