package pourwright.cli;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Objects;

/** The routine that comes with the program: three brewers with the demo plan. */
final class StageDemo {
  /** What stands for the demo plan in it. */
  static final String PLAN = "regional-heat.yaml";

  private static final String ROUTINE = "/pourwright/routines/three-brewers.yaml";
  private static final String EVENT = "/pourwright/routines/event.yaml";

  private StageDemo() {}

  static String text() throws Failure {
    return resource(ROUTINE);
  }

  /** Common practice as an event file. */
  static String eventText() throws Failure {
    return resource(EVENT);
  }

  private static String resource(String file) throws Failure {
    try (InputStream in = Objects.requireNonNull(StageDemo.class.getResourceAsStream(file))) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException broken) {
      throw new Failure("the program cannot read its own file: " + broken.getMessage(), broken);
    }
  }
}
