package pourwright.plan;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Objects;

/** Plans for tests. */
public final class Plans {
  private Plans() {}

  /** The plan that ships with the program. */
  public static Plan demo() {
    return read(demoText());
  }

  public static String demoText() {
    try (InputStream in =
        Objects.requireNonNull(
            PlanReader.class.getResourceAsStream("/pourwright/plans/regional-heat.yaml"))) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** A plan that must be fit to pour. */
  public static Plan read(String text) {
    PlanReading reading = PlanReader.read(text, "test.yaml");
    if (reading instanceof PlanReading.Understood understood) {
      return understood.plan();
    }
    throw new AssertionError(reading.toString());
  }
}
