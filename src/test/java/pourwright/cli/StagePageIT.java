package pourwright.cli;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.ColorScheme;
import java.io.IOException;
import java.io.InputStream;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import pourwright.web.Browser;

/** The stage page of the packaged program in a real browser, while a routine is live. */
@Timeout(400)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class StagePageIT {
  private static final double PATIENCE_MILLIS = 90_000;

  /** Where pictures of the screens go, if somebody wants to look at them. */
  private static final String PICTURES = System.getProperty("pictures", "");

  private Playwright playwright;
  private com.microsoft.playwright.Browser browser;

  @BeforeAll
  void launch() {
    playwright = Browser.playwright();
    browser = Browser.launch(playwright);
    PlaywrightAssertions.setDefaultAssertionTimeout(PATIENCE_MILLIS);
  }

  @AfterAll
  void shut() {
    if (playwright != null) {
      playwright.close();
    }
  }

  private static String routine(Path folder, String hands) throws IOException {
    Files.writeString(
        folder.resolve("plan.yaml"),
        """
        format: 1
        title: Short one
        dose_g: 12
        water_g: 120
        pours:
          - {add_g: 50, flow_g_per_s: 5.0, start: {at_s: 0}}
          - {add_g: 70, flow_g_per_s: 6.0, start: {at_s: 60}}
        """);
    return Files.writeString(
            folder.resolve("routine.yaml"),
            "format: 1\ntitle: Two brewers\nbrewers:\n- {name: left, plan: plan.yaml}\n"
                + "- {name: right, plan: plan.yaml}\nhands: {"
                + hands
                + "}\n")
        .toString();
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }

  private static void shoot(Page tab, String name) {
    if (!PICTURES.isEmpty()) {
      tab.screenshot(
          new Page.ScreenshotOptions().setPath(Path.of(PICTURES).resolve(name + ".png")));
    }
  }

  @Test
  void with_one_moved_scale_the_page_shows_who_is_next_the_water_to_go_and_where_the_scale_goes(
      @TempDir Path folder) throws Exception {
    List<String> complaints = new ArrayList<>();
    int port = freePort();
    try (Program program =
            Program.start(
                folder,
                "page",
                "stage",
                "mock",
                routine(folder, "scale_s: 7"),
                "--trials=20",
                "--lines",
                "--port=" + port,
                "--data=" + folder.resolve("data"),
                "--scale=sim:bench?seed=3&speed=2");
        BrowserContext context =
            browser.newContext(
                new com.microsoft.playwright.Browser.NewContextOptions()
                    .setViewportSize(1366, 768))) {
      program.awaitTalk("the stage clock is on the page", Duration.ofMinutes(2));
      program.awaitTalk("page: ", Duration.ofMinutes(2));
      Page tab = context.newPage();
      tab.onPageError(complaints::add);
      tab.setDefaultNavigationTimeout(PATIENCE_MILLIS);
      tab.navigate("http://127.0.0.1:" + port + "/stage");
      assertThat(tab.locator("#start")).isHidden();
      assertThat(tab.locator("#total")).hasText(Pattern.compile("-?\\d+ g to go"));
      shoot(tab, "pouring-laptop");
      assertThat(tab.locator("#notice"))
          .hasText(Pattern.compile("(now the scale goes under|on its way to) (left|right)"));
      shoot(tab, "scale-goes-laptop");
      tab.keyboard().press(" "); // hands-free: no key stops the clock
      tab.setViewportSize(1024, 768);
      assertThat(tab.locator("#who")).hasText(Pattern.compile("left|right"));
      assertThat(tab.locator("#total")).hasText(Pattern.compile("-?\\d+ g to go"));
      shoot(tab, "pouring-tablet");
      usableByEverybody(tab);
      program.awaitTalk("kept as run 2", Duration.ofMinutes(3));
    }
    assertThat(complaints).isEmpty();
  }

  private static void usableByEverybody(Page tab) throws IOException {
    String axe;
    try (InputStream in = StagePageIT.class.getResourceAsStream("/axe.min.js")) {
      axe = new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
    }
    for (ColorScheme scheme : new ColorScheme[] {ColorScheme.LIGHT, ColorScheme.DARK}) {
      tab.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(scheme));
      tab.evaluate(axe);
      Object found =
          tab.evaluate(
              "axe.run().then(r => r.violations.map(v => v.id + ': ' +"
                  + " v.nodes.map(n => n.target).join(' ')))");
      assertThat((List<?>) found).as("%s", scheme).isEmpty();
    }
  }
}
