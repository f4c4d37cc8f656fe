package pourwright.web;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.List;
import pourwright.builder.PlanDesk;

/** The plan page with a folder of its own and no runs to learn from. */
final class PlanPage implements AutoCloseable {
  private final PageServer server;

  PlanPage(Path folder) throws IOException {
    this.server =
        PageServer.open(
            new PageSettings(0, false),
            new LivePage(),
            new Pairing(new SecureRandom(), System::nanoTime, code -> {}),
            List.of(new PlanDesk(folder, (title, areSimulated) -> List.of())));
  }

  URI address() {
    return server.address().resolve("/plan");
  }

  @Override
  public void close() {
    server.close();
  }
}
