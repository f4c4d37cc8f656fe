package pourwright.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.ColorScheme;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/** The plan page in a real browser. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PlanPageIT {
  private static final double PATIENCE_MILLIS = 30_000;

  private Playwright playwright;
  private com.microsoft.playwright.Browser browser;
  private BrowserContext context;
  private PlanPage page;
  private Page tab;
  private Path plans;
  private final List<String> complaints = new ArrayList<>();

  @BeforeAll
  void launch() {
    playwright = Browser.playwright();
    browser = Browser.launch(playwright);
    // every number is computed anew by the program, which a busy machine may keep waiting
    PlaywrightAssertions.setDefaultAssertionTimeout(PATIENCE_MILLIS);
  }

  @AfterAll
  void shut() {
    if (playwright != null) {
      playwright.close();
    }
  }

  @BeforeEach
  void open(@TempDir Path folder) throws IOException {
    plans = folder.resolve("plans");
    page = new PlanPage(plans);
    context = browser.newContext();
    tab = context.newPage();
    tab.onPageError(complaints::add);
    tab.navigate(page.address().toString());
    assertThat(tab.locator("#summary")).hasText("50 + 70 + 60 + 60 + 60 = 300 g on 20 g, 1 : 15.0");
  }

  @AfterEach
  void the_page_never_complained() {
    context.close();
    page.close();
    assertThat(complaints).isEmpty();
  }

  private void fill(String selector, String value) {
    tab.locator(selector).first().fill(value);
  }

  @Test
  void a_number_changes_the_pours_the_cup_and_the_picture_and_can_be_undone() {
    fill("#closing-count", "2");
    assertThat(tab.locator("#summary")).containsText("50 + 70 + 90 + 90 = 300 g");
    assertThat(tab.locator("#cup li")).hasText("Fewer closing pours give a weaker cup.");
    assertThat(tab.locator("#against")).containsText("common practice, no source");
    assertThat(tab.locator("#drawing svg"))
        .hasAttribute("aria-label", Pattern.compile("pour 4 from 2:15 .*"));
    fill("[data-field=dose_g]", "18");
    assertThat(tab.locator("#summary")).containsText("= 270 g on 18 g, 1 : 15.0");
    tab.keyboard().press("Control+z");
    assertThat(tab.locator("#summary")).containsText("= 300 g on 20 g");
    tab.locator("#undo").click();
    assertThat(tab.locator("#summary")).hasText("50 + 70 + 60 + 60 + 60 = 300 g on 20 g, 1 : 15.0");
    assertThat(tab.locator("#undo")).isDisabled();
    tab.locator("#redo").click();
    assertThat(tab.locator("#summary")).containsText("50 + 70 + 90 + 90 = 300 g");
  }

  @Test
  void what_stands_in_the_way_names_pour_and_fix() {
    tab.locator(".kit summary").click();
    fill("[data-kit=fill_g]", "280");
    assertThat(tab.locator("#troubles")).containsText("g short; fill it with 361 g");
    assertThat(tab.locator("#count")).containsText("in its way");
    fill("[data-share=first_g]", "150");
    assertThat(tab.locator("#summary")).containsText("No plan yet: the first pour of 150 g");
    assertThat(tab.locator("#save")).isDisabled();
  }

  @Test
  void pours_one_by_one_are_kept_as_a_file_and_opened_again() throws IOException {
    tab.locator("[name=mode][value=pours]").check();
    assertThat(tab.locator("#pours tbody tr")).hasCount(5);
    tab.locator("#pours tbody tr").nth(4).locator("button").click();
    fill("#pours tbody tr:nth-child(2) input", "80");
    assertThat(tab.locator("#summary")).containsText("50 + 80 + 60 + 60 = 250 g");
    fill("#name", "short one");
    tab.locator("#save").click();
    assertThat(tab.locator("#kept")).containsText("short one.yaml");
    Path file = plans.resolve("short one.yaml");
    assertThat(Files.readString(file)).contains("water_g: 250");

    fill("#pours tbody tr:nth-child(2) input", "90");
    assertThat(tab.locator("#summary")).containsText("= 260 g");
    tab.locator("#save").click();
    assertThat(tab.locator("#kept")).containsText("already");
    tab.locator("#replace").click();
    assertThat(tab.locator("#kept")).containsText("Kept");
    assertThat(Files.readString(file)).contains("water_g: 260");

    tab.reload();
    tab.locator("#open").selectOption("short one");
    assertThat(tab.locator("#summary")).containsText("50 + 90 + 60 + 60 = 260 g");
  }

  @Test
  void the_kit_is_remembered_on_this_screen() {
    tab.locator(".kit summary").click();
    tab.locator("[data-kit=dripper]").selectOption("flat");
    assertThat(tab.locator("[data-kit=across_mm]")).hasValue("75");
    tab.reload();
    tab.locator(".kit summary").click();
    assertThat(tab.locator("[data-kit=dripper]")).hasValue("flat");
  }

  @Test
  void the_page_is_usable_by_everybody_in_both_lights_and_on_a_phone() throws IOException {
    String axe;
    try (InputStream in = PlanPageIT.class.getResourceAsStream("/axe.min.js")) {
      axe = new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
    }
    tab.locator(".kit summary").click();
    for (ColorScheme scheme : new ColorScheme[] {ColorScheme.LIGHT, ColorScheme.DARK}) {
      tab.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(scheme));
      for (int width : new int[] {1366, 390}) {
        tab.setViewportSize(width, 800);
        Object wide = tab.evaluate("document.documentElement.scrollWidth > window.innerWidth");
        assertThat(wide).as("%s wider than the screen of %s", scheme, width).isEqualTo(false);
        tab.evaluate(axe);
        Object found =
            tab.evaluate(
                "axe.run().then(r => r.violations.map(v => v.id + ': ' +"
                    + " v.nodes.map(n => n.target).join(' ')))");
        assertThat((List<?>) found).as("%s at %s", scheme, width).isEmpty();
      }
    }
  }
}
