package pourwright.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.StreamWriteFeature;
import com.fasterxml.jackson.core.json.JsonWriteFeature;
import java.io.IOException;
import java.io.PrintWriter;

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
}
