package pourwright.web;

import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Playwright;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;

/** The real Chromium that browser tests run in. */
public final class Browser {
  private static final List<Path> USUAL_PLACES =
      List.of(
          Path.of("/usr/bin/chromium"),
          Path.of("/usr/bin/chromium-browser"),
          Path.of("/usr/bin/google-chrome"));

  private Browser() {}

  private static Optional<Path> find() {
    return Stream.concat(
            Optional.ofNullable(System.getProperty("browser")).map(Path::of).stream(),
            USUAL_PLACES.stream())
        .filter(Files::isExecutable)
        .findFirst();
  }

  /** Whether a missing browser is a failure: in continuous integration, or when asked for. */
  private static boolean isRequired() {
    return System.getenv("CI") != null || Boolean.getBoolean("browser.required");
  }

  /** A playwright, or the test is skipped with a loud line. */
  public static Playwright playwright() {
    if (find().isEmpty() && !isRequired()) {
      System.err.println(
          "*** NO CHROMIUM FOUND: the browser tests of the page are SKIPPED. "
              + "Install Debian's chromium, or name one with -Dbrowser=PATH. ***");
      Assumptions.abort("no Chromium is installed");
    }
    return Playwright.create(
        new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
  }

  public static com.microsoft.playwright.Browser launch(Playwright playwright) {
    Path chromium =
        find()
            .orElseThrow(
                () -> new AssertionError("no Chromium is installed, and the tests require one"));
    return playwright
        .chromium()
        .launch(
            new BrowserType.LaunchOptions()
                .setExecutablePath(chromium)
                .setHeadless(true)
                .setArgs(
                    List.of(
                        "--no-sandbox",
                        "--disable-dev-shm-usage",
                        "--autoplay-policy=no-user-gesture-required")));
  }
}
