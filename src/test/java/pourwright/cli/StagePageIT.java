package pourwright.cli;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Download;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import pourwright.stage.Chore;
import pourwright.stage.Clock;
import pourwright.stage.Job;
import pourwright.stage.Timetable.Slot;
import pourwright.web.Browser;
import pourwright.web.Usability;

/**
 * The stage page in a real browser. Scales and clock stand still while the page is looked at, so
 * nothing here races against time; what is waited for is that the page has caught up.
 */
@Timeout(400)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class StagePageIT {
  private static final double PATIENCE_MILLIS = 60_000;
  private static final int FIRST = 1;

  private Playwright playwright;
  private com.microsoft.playwright.Browser browser;
  private BrowserContext context;
  private Page tab;
  private final List<String> complaints = new ArrayList<>();

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
    PlaywrightAssertions.setDefaultAssertionTimeout(5_000);
  }

  @BeforeEach
  void openContext() {
    context = browser.newContext();
    context.setDefaultTimeout(PATIENCE_MILLIS);
    tab = context.newPage();
    tab.onPageError(complaints::add);
  }

  @AfterEach
  void the_page_never_complained() {
    context.close();
    assertThat(complaints).isEmpty();
  }

  private static String brewer(RehearsedStage stage, Job job) {
    if (job.chore() == Chore.SPEAK) {
      return "say";
    }
    return stage.file.routine().stations().get(job.station()).name();
  }

  private static String deed(Job job) {
    return switch (job.chore()) {
      case POUR -> "pour " + job.pour();
      case SPEAK -> "“" + job.words() + "”";
      default -> job.words();
    };
  }

  private void showsNow(RehearsedStage stage, Job job) {
    assertThat(tab.locator("#who")).hasText(brewer(stage, job));
    assertThat(tab.locator("#what")).hasText(deed(job));
  }

  private void showsNext(RehearsedStage stage, String when, Job job) {
    assertThat(tab.locator("#coming"))
        .hasText(
            Pattern.compile(when + ": " + brewer(stage, job) + ", " + deed(job) + "( to \\d+ g)?"));
  }

  @Test
  void the_live_routine_goes_on_by_itself_job_after_job_with_scales_under_two_of_three_brewers()
      throws Exception {
    try (RehearsedStage stage = RehearsedStage.led()) {
      tab.navigate(stage.address().toString());
      assertThat(tab.locator("#title")).hasText("Three brewers");
      assertThat(tab.locator("#what")).hasText("the first water starts the clock");
      assertThat(tab.locator("#start")).isHidden();
      assertThat(tab.locator("#reset")).isHidden();
      stage.playToFirstWater();
      List<Slot> slots = stage.timetable.slots();
      List<Chore> seen = new ArrayList<>();
      boolean hasBegun = false;
      int lifted = 0;
      for (int i = 0; i + 1 < slots.size(); i++) {
        Slot slot = slots.get(i);
        Job job = slot.job();
        hasBegun |= job.chore() == Chore.POUR;
        if (!hasBegun) {
          continue; // done before there is water, hence before the clock
        }
        seen.add(job.chore());
        boolean isWeighed = job.chore() == Chore.POUR && job.station() < 2;
        double at =
            isWeighed ? (slot.startSeconds() + slot.endSeconds()) / 2.0 : slot.endSeconds() - 0.5;
        stage.playToStage(at);
        showsNow(stage, job);
        showsNext(stage, "next in \\d+ s", slots.get(i + 1).job());
        if (isWeighed) {
          assertThat(tab.locator("#total")).hasText(Pattern.compile("\\d+ g to go"));
        } else if (job.chore() == Chore.POUR) {
          assertThat(tab.locator("#total"))
              .hasText(job.pour() == FIRST ? "50 g in all" : "120 g in all");
        } else {
          assertThat(tab.locator("#total")).hasText("");
          assertThat(tab.locator("#clock")).hasText(Clock.words((int) at));
          assertThat(tab.locator("#jobs [aria-current]")).containsText(deed(job));
        }
        lifted += job.chore() == Chore.LIFT && job.station() < 2 ? 1 : 0;
        if (lifted == 2) {
          break; // the run of the scales ends with the last lift that they see
        }
      }
      assertThat(seen).contains(Chore.SPEAK, Chore.SWIRL, Chore.LIFT);
      assertThat(seen.stream().filter(chore -> chore == Chore.POUR)).hasSize(6);
      assertThat(tab.locator("#stands")).isHidden(); // each has their own scale
      tab.keyboard().press(" "); // no key stops a clock that the water leads
      assertThat(tab.locator("#trouble")).isHidden();
    }
  }

  @Test
  void the_brewer_says_under_whom_a_moved_scale_stands() throws Exception {
    try (RehearsedStage stage = RehearsedStage.moved()) {
      stage.playToStillness();
      tab.navigate(stage.address().toString());
      assertThat(tab.locator("#stands button"))
          .hasText(new String[] {"1 left", "2 middle", "3 right"});
      standsUnder("1 left");
      tab.locator("#stands button").nth(2).click();
      standsUnder("3 right");
      tab.keyboard().press("2");
      standsUnder("2 middle");
      tab.keyboard().press("4"); // nobody
      assertThat(tab.locator("#trouble")).isHidden();
      for (Locator button : tab.locator("#stands button").all()) {
        assertThat(button.boundingBox().height).isGreaterThanOrEqualTo(44);
        assertThat(button.boundingBox().width).isGreaterThanOrEqualTo(44);
      }
    }
  }

  private void standsUnder(String brewer) {
    assertThat(tab.locator("#stands [aria-pressed=true]")).hasText(brewer);
  }

  @Test
  void by_hand_the_clock_starts_stops_and_goes_back() throws IOException {
    try (RehearsedStage stage = RehearsedStage.byHand()) {
      tab.navigate(stage.address().toString());
      assertThat(tab.locator("#what")).hasText("ready");
      showsNext(stage, "first", stage.timetable.slots().get(0).job());
      tab.locator("#start").click();
      assertThat(tab.locator("#start-word")).hasText("stop the clock");
      Slot pour =
          stage.timetable.slots().stream()
              .filter(slot -> slot.job().chore() == Chore.POUR)
              .findFirst()
              .orElseThrow();
      stage.nanos.set((pour.startSeconds() + 1) * 1_000_000_000L);
      tab.keyboard().press("PageDown");
      assertThat(tab.locator("#start-word")).hasText("go on");
      assertThat(tab.locator("#clock")).hasText(Clock.words(pour.startSeconds() + 1));
      showsNow(stage, pour.job());
      assertThat(tab.locator("#total")).hasText("50 g in all");
      tab.locator("#reset").click();
      assertThat(tab.locator("#what")).hasText("ready");
      assertThat(tab.locator("#clock")).hasText("0:00");
    }
  }

  @Test
  void the_card_is_printed_from_the_page() throws IOException {
    try (RehearsedStage stage = RehearsedStage.byHand()) {
      tab.navigate(stage.address().toString());
      for (String paper : List.of("A5", "A4")) {
        Download card =
            tab.waitForDownload(
                () ->
                    tab.locator("a[href*=card]", new Page.LocatorOptions().setHasText(paper))
                        .click());
        assertThat(card.suggestedFilename())
            .isEqualTo("stage-card-" + paper.toLowerCase(Locale.ROOT) + ".pdf");
        assertThat(Files.readAllBytes(card.path()))
            .startsWith("%PDF-".getBytes(StandardCharsets.US_ASCII))
            .hasSizeGreaterThan(5_000);
      }
    }
  }

  @Test
  void the_page_is_usable_by_everybody_and_read_from_two_metres_on_every_screen() throws Exception {
    try (RehearsedStage stage = RehearsedStage.led()) {
      stage.playToFirstWater();
      Slot pour =
          stage.timetable.slots().stream()
              .filter(slot -> slot.job().chore() == Chore.POUR)
              .findFirst()
              .orElseThrow();
      stage.playToStage((pour.startSeconds() + pour.endSeconds()) / 2.0);
      for (Usability.Screen screen : Usability.Screen.values()) {
        try (BrowserContext its = screen.opened(browser)) {
          its.setDefaultTimeout(PATIENCE_MILLIS);
          Page shown = its.newPage();
          shown.navigate(stage.address().toString());
          assertThat(shown.locator("#total")).hasText(Pattern.compile("\\d+ g to go"));
          assertThat(Usability.complaints(shown)).as("%s", screen).isEmpty();
          // ISO 9241-303: 20 to 22 minutes of arc are preferred, 16 are the least
          for (String large : List.of("#clock", "#who", "#what", "#total")) {
            assertThat(minutesOfArc(shown, large))
                .as("%s on %s", large, screen)
                .isBetween(20.0, 80.0);
          }
          assertThat(minutesOfArc(shown, "#coming")).as("%s", screen).isGreaterThanOrEqualTo(16);
        }
      }
    }
  }

  /** Of a capital, 0.668 em in this face, seen from two metres on a screen of 96 pixels an inch. */
  private static double minutesOfArc(Page shown, String part) {
    double pixels =
        ((Number)
                shown.evaluate(
                    "part => parseFloat(getComputedStyle(document.querySelector(part)).fontSize)",
                    part))
            .doubleValue();
    return Math.toDegrees(0.668 * pixels * 25.4 / 96 / 2_000) * 60;
  }
}
