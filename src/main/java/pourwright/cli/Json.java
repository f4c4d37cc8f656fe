package pourwright.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.core.json.JsonWriteFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;

/** JSON on standard output: plain ASCII, so that it is UTF-8 whatever the terminal is set to. */
final class Json {
  private static final JsonFactory FACTORY =
      JsonFactory.builder()
          .enable(JsonWriteFeature.ESCAPE_NON_ASCII)
          .disable(StreamWriteFeature.AUTO_CLOSE_TARGET)
          .build();

  private Json() {}

  /** A generator that leaves {@code out} open. */
  static JsonGenerator write(PrintWriter out) throws IOException {
    JsonGenerator json = FACTORY.createGenerator(out);
    json.useDefaultPrettyPrinter();
    return json;
  }

  /** A document as it stands on standard output. */
  static String pretty(JsonNode node) {
    StringWriter text = new StringWriter();
    try (JsonGenerator json = FACTORY.createGenerator(text)) {
      json.useDefaultPrettyPrinter();
      new ObjectMapper().writeTree(json, node);
    } catch (IOException never) {
      throw new UncheckedIOException(never); // nothing is written but memory
    }
    return text.toString();
  }
}
