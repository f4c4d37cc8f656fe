package pourwright.web;

/**
 * Where the page is served.
 *
 * @param port TCP port; 0 takes any free one
 * @param lan whether paired devices of the local network are let in; else only this machine
 */
public record PageSettings(int port, boolean lan) {
  /** Not registered for anything widespread; own choice. */
  public static final int USUAL_PORT = 7264;

  public static final PageSettings USUAL = new PageSettings(USUAL_PORT, false);

  public PageSettings {
    if (port < 0 || port > 65_535) {
      throw new IllegalArgumentException("no such port: " + port);
    }
  }
}
