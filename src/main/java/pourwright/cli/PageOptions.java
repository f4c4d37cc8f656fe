package pourwright.cli;

import picocli.CommandLine.Option;
import pourwright.web.PageSettings;

/** What the local page can be told. */
final class PageOptions {
  @Option(names = "--no-page", description = "Show no page, only the terminal.")
  private boolean isOff;

  @Option(
      names = "--port",
      paramLabel = "PORT",
      description = "Port of the page. Else " + PageSettings.USUAL_PORT + ", or any free one.")
  private int port = -1;

  @Option(
      names = "--lan",
      description =
          "Let paired phones and tablets of the local network see the page too; shows a code to "
              + "pair them. The network is not encrypted: only where you know who is on it.")
  private boolean isLan;

  @Option(
      names = "--open",
      description = "Open the page in a browser, where there is a desktop; the demo always does.")
  private boolean isOpened;

  void alwaysOpen() {
    isOpened = true;
  }

  boolean isOpened() {
    return isOpened;
  }

  boolean isOff() {
    return isOff;
  }

  boolean isPortNamed() {
    return port >= 0;
  }

  PageSettings settings() {
    return new PageSettings(isPortNamed() ? port : PageSettings.USUAL_PORT, isLan);
  }
}
