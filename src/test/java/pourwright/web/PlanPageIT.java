package pourwright.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
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
  void water_is_weighed_for_a_target_and_what_a_mix_carries_is_told() {
    tab.locator("#water summary").click();
    assertThat(tab.locator("#water-says")).hasText("hardness 70, alkalinity 40 mg/L, 3.9 °dH");
    assertThat(tab.locator("#weigh tbody tr"))
        .hasText(
            new String[] {
              "tap666.7", "distilled821.6", "hardness concentrate11.7", "in all1500.0"
            });
    fill("[data-water=hardness_mg_per_l]", "2000");
    assertThat(tab.locator("#water-says"))
        .hasText(
            "No water yet: no mixture of these waters has hardness 2000, alkalinity 40 mg/L as"
                + " CaCO3; none is as hard: add a concentrate of a salt that makes hardness");
    assertThat(tab.locator("#weigh")).isHidden();
    tab.locator("[name=want][value=mix]").check();
    assertThat(tab.locator("#water-says")).containsText("say how much of each water there is");
    tab.locator("[aria-label='leave water 4 out']").click();
    tab.locator("[aria-label='leave water 3 out']").click();
    tab.getByLabel("Weighed").nth(0).fill("500");
    tab.getByLabel("Weighed").nth(1).fill("500");
    assertThat(tab.locator("#water-says")).hasText("hardness 70, alkalinity 45 mg/L, 3.9 °dH");
    tab.locator("#add-water").click();
    assertThat(tab.locator("#water-says")).hasText("water 3: Hardness is missing.");
    tab.locator("[aria-label='water 3'] select").selectOption("soda");
    tab.getByLabel("Salt g/L").fill("1.68");
    tab.getByLabel("Weighed").nth(2).fill("100");
    assertThat(tab.locator("#water-says")).hasText("hardness 64, alkalinity 132 mg/L, 3.6 °dH");
    tab.reload();
    tab.locator("#water summary").click();
    assertThat(tab.locator("#water-says")).hasText("hardness 64, alkalinity 132 mg/L, 3.6 °dH");
  }

  @Test
  void the_kettle_is_refilled_as_often_as_is_said() {
    tab.locator(".kit summary").click();
    fill("[data-kit=fill_g]", "240");
    assertThat(tab.locator("#troubles")).containsText("g short");
    tab.locator("#add-refill").click();
    fill("[aria-label='grams of refill 1']", "100");
    fill("[aria-label='seconds of refill 1']", "80");
    assertThat(tab.locator("#troubles")).containsText("g short");
    tab.locator("#add-refill").click();
    assertThat(tab.locator("#refills tbody tr")).hasCount(2);
    assertThat(tab.locator("[aria-label='seconds of refill 2']")).hasValue("140");
    assertThat(tab.locator("#troubles")).not().containsText("g short");
    tab.reload();
    tab.locator(".kit summary").click();
    assertThat(tab.locator("[aria-label='grams of refill 2']")).hasValue("100");
    tab.locator("[aria-label='remove refill 1']").click();
    assertThat(tab.locator("#refills tbody tr")).hasCount(1);
    assertThat(tab.locator("#troubles")).containsText("g short");
  }

  @Test
  void a_refill_kept_when_there_was_but_one_is_the_first_of_many() {
    tab.evaluate(
        "localStorage.setItem('pourwright-kit', JSON.stringify({refill_g: 150, refill_s: 70,"
            + " refill_c: 96}))");
    tab.reload();
    tab.locator(".kit summary").click();
    assertThat(tab.locator("#refills tbody tr")).hasCount(1);
    assertThat(tab.locator("[aria-label='grams of refill 1']")).hasValue("150");
  }

  @Test
  void the_page_is_usable_by_everybody_on_every_screen() throws IOException {
    for (Usability.Screen screen : Usability.Screen.values()) {
      try (BrowserContext its = screen.opened(browser)) {
        Page shown = its.newPage();
        shown.navigate(page.address().toString());
        shown.locator(".kit summary").click();
        shown.locator("#add-refill").click();
        shown.locator("#water summary").click();
        shown.locator("[name=mode][value=pours]").check();
        assertThat(shown.locator("#pours tbody tr")).hasCount(5);
        assertThat(Usability.complaints(shown)).as("%s", screen).isEmpty();
        shown.locator("[name=mode][value=shares]").check();
        assertThat(Usability.complaints(shown)).as("%s", screen).isEmpty();
      }
    }
  }
}
