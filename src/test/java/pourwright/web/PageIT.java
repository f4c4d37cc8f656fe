package pourwright.web;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.ReducedMotion;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import pourwright.coach.Feedback;

/** The page in a real browser, from the armed rig to the cup. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PageIT {
  private static final double FIRST_WATER = ScriptedBrew.FIRST_WATER;

  private Playwright playwright;
  private com.microsoft.playwright.Browser browser;
  private BrowserContext context;
  private final List<String> complaints = new ArrayList<>();

  @BeforeAll
  void launch() {
    playwright = Browser.playwright();
    browser = Browser.launch(playwright);
  }

  @AfterAll
  void shut() {
    if (playwright != null) {
      playwright.close();
    }
  }

  @BeforeEach
  void openContext() {
    context = browser.newContext();
  }

  @AfterEach
  void the_page_never_complained() {
    context.close();
    assertThat(complaints).isEmpty();
  }

  private Page tab() {
    Page tab = context.newPage();
    tab.onPageError(complaints::add);
    tab.onRequest(
        request -> {
          if (!request.url().startsWith("http://127.0.0.1:")
              && !request.url().startsWith("http://1")) {
            complaints.add("asked outside: " + request.url());
          }
        });
    return tab;
  }

  private Page tab(RehearsedPage page) {
    Page tab = tab();
    tab.navigate(page.address().toString());
    return tab;
  }

  private static Locator sky(Page tab, String part) {
    return tab.locator(".sky " + part).first();
  }

  /** Lets the run go on in steps, as a scale would, so that every state is shown on the way. */
  private static void walk(RehearsedPage page, double from, double to) throws InterruptedException {
    for (double at = from; at < to; at += 2) {
      page.playTo(at);
      page.awaitView(at - 0.5);
    }
    page.playTo(to);
  }

  @Test
  void a_whole_rehearsal_from_the_armed_rig_to_the_kept_cup() throws Exception {
    try (RehearsedPage page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.offPlan(3))) {
      Page tab = tab(page);
      assertThat(sky(tab, ".figure")).hasText("no scale yet");
      page.playTo(3);
      assertThat(tab.locator("#state")).containsText("armed");
      assertThat(sky(tab, ".figure")).hasText("42");
      walk(page, 4, FIRST_WATER + 5);
      assertThat(sky(tab, ".unit")).hasText("g to go");
      assertThat(sky(tab, ".figure")).hasText(Pattern.compile("1[0-9]"));
      assertThat(sky(tab, ".flow")).hasText(Pattern.compile("[45]\\.[0-9] of 5\\.0 g/s"));
      walk(page, FIRST_WATER + 5, FIRST_WATER + 22);
      assertThat(tab.locator(".ribbon")).hasText("say: where the lot comes from");
      walk(page, FIRST_WATER + 22, FIRST_WATER + 43.8);
      assertThat(tab.locator(".next-when")).hasText(Pattern.compile("in [45] s"));
      assertThat(tab.locator(".next-why")).hasText("when drained");
      assertThat(sky(tab, ".cue")).hasText("get ready");
      walk(page, FIRST_WATER + 43.8, FIRST_WATER + 80);
      assertThat(tab.locator(".ribbon")).hasText(Pattern.compile("◆ pour 2: \\+[45]\\.[0-9] g.*"));
      walk(page, FIRST_WATER + 80, ScriptedBrew.END);
      Locator rows = tab.locator("#debrief tbody tr:has(.verdict)");
      assertThat(rows).hasCount(4);
      assertThat(rows.nth(0)).containsText("inside");
      assertThat(rows.nth(1)).containsText("outside");
      assertThat(tab.locator(".work-on")).hasText(Pattern.compile("Pour [23]: .+\\."));
      tab.locator(".afterword input").fill("1.38");
      tab.locator(".afterword textarea").fill("round, a little short");
      tab.locator(".afterword button").click();
      assertThat(tab.locator(".afterword [role=status]")).hasText("kept");
      assertThat(page.kept)
          .singleElement()
          .satisfies(
              word -> {
                assertThat(word.strengthPercent()).hasValue(1.38);
                assertThat(word.note()).hasValue("round, a little short");
              });
    }
  }

  @Test
  void a_reload_in_mid_pour_and_a_second_tab_show_the_same() throws Exception {
    try (RehearsedPage page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.onPlan(5))) {
      Page tab = tab(page);
      walk(page, 2, FIRST_WATER + 53);
      assertThat(sky(tab, ".unit")).hasText("g to go");
      assertThat(tab.locator("#clock")).hasText(Pattern.compile("0:5[23]"));
      String clock = tab.locator("#clock").textContent();
      String before = sky(tab, ".figure").textContent();
      tab.reload();
      assertThat(sky(tab, ".figure")).hasText(before);
      Page second = tab(page);
      assertThat(sky(second, ".figure")).hasText(before);
      assertThat(second.locator("#clock")).hasText(clock);
      walk(page, FIRST_WATER + 53, FIRST_WATER + 70);
      for (Page one : List.of(tab, second)) {
        assertThat(one.locator(".ribbon")).hasText(Pattern.compile("● pour 2: .*"));
      }
    }
  }

  @Test
  void a_lost_scale_is_told_and_the_run_goes_on() throws Exception {
    try (RehearsedPage page =
        RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.onPlan(6).lost(30, 34))) {
      Page tab = tab(page);
      walk(page, 2, 30.2);
      assertThat(tab.locator(".ribbon")).containsText("The scale went away.");
      assertThat(sky(tab, ".figure")).hasText("no weight");
      assertThat(tab.locator("#links li")).containsText("lost");
      walk(page, 34, 40);
      assertThat(sky(tab, ".figure")).hasText("66");
      assertThat(tab.locator("#links li")).containsText("1 × lost");
      walk(page, 40, FIRST_WATER + 53);
      assertThat(sky(tab, ".unit")).hasText("g to go");
    }
  }

  @Test
  void a_blind_run_shows_no_weight_before_the_guess() throws Exception {
    try (RehearsedPage page = RehearsedPage.open(Feedback.BLIND, false, ScriptedBrew.onPlan(7))) {
      Page tab = tab(page);
      List<String> frames = new ArrayList<>();
      tab.onWebSocket(socket -> socket.onFrameReceived(frame -> frames.add(frame.text())));
      tab.reload();
      walk(page, 2, FIRST_WATER + 5);
      assertThat(sky(tab, ".figure")).hasText("blind");
      walk(page, FIRST_WATER + 5, FIRST_WATER + 20);
      assertThat(tab.locator(".guess")).isVisible();
      assertThat(frames).isNotEmpty().noneMatch(text -> text.contains("poured_g"));
      assertThat(frames).noneMatch(text -> text.contains("shows_g") || text.contains("\"trace\""));
      tab.locator(".guess input").fill("40");
      tab.locator(".guess button").click();
      assertThat(tab.locator(".guess")).isHidden();
      walk(page, FIRST_WATER + 20, ScriptedBrew.END);
      assertThat(tab.locator("#debrief")).containsText("Guess first, then see.");
      assertThat(tab.locator("#debrief label")).hasCount(3);
      assertThat(tab.locator("#debrief table")).hasCount(0);
      for (int i = 0; i < 3; i++) {
        tab.locator("#debrief input").nth(i).fill("70");
      }
      tab.locator("#debrief button[type=submit]").click();
      assertThat(tab.locator("#debrief thead")).containsText("guess");
      assertThat(tab.locator("#debrief tbody tr:has(.verdict)").first()).containsText("40.0 g");
      assertThat(page.kept).isNotEmpty();
    }
  }

  @Test
  void two_brewers_have_a_lane_each() throws Exception {
    try (RehearsedPage page =
        RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.offPlan(8), ScriptedBrew.onPlan(9))) {
      Page tab = tab(page);
      walk(page, 2, FIRST_WATER + 80);
      assertThat(tab.locator(".brewer")).hasCount(2);
      assertThat(tab.locator(".brewer-who").nth(1)).hasText("right brewer");
      assertThat(tab.locator(".ribbon").nth(0)).containsText("◆ pour 2");
      assertThat(tab.locator(".ribbon").nth(1)).containsText("● pour 2");
      assertThat(tab.locator("#links li")).hasCount(2);
      walk(page, FIRST_WATER + 80, ScriptedBrew.END);
      assertThat(tab.locator("#debrief section")).hasCount(2);
      assertThat(tab.locator(".work-on")).containsText("left brewer");
    }
  }

  @Test
  void of_four_brewers_the_one_whose_turn_it_is_has_the_room() throws Exception {
    try (RehearsedPage page =
        RehearsedPage.open(
            Feedback.FULL,
            false,
            ScriptedBrew.onPlan(8).delayed(21),
            ScriptedBrew.onPlan(9).delayed(14),
            ScriptedBrew.onPlan(10).delayed(7),
            ScriptedBrew.onPlan(11))) {
      Page tab = tab(page);
      Locator turn = tab.locator(".brewer.is-turn");
      walk(page, 2, FIRST_WATER + 4);
      assertThat(turn.locator(".brewer-who")).hasText("fourth brewer");
      assertThat(turn.locator(".field")).isVisible();
      assertThat(tab.locator(".brewer:not(.is-turn) .field").first()).isHidden();
      walk(page, FIRST_WATER + 4, FIRST_WATER + 11);
      assertThat(turn.locator(".brewer-who")).hasText("third brewer");
      assertThat(tab.locator(".standby").nth(3)).hasText(Pattern.compile("66 g in 3[0-9] s"));
      walk(page, FIRST_WATER + 11, FIRST_WATER + 25);
      assertThat(turn.locator(".brewer-who")).hasText("left brewer");
      assertThat(tab.locator("#links li")).hasText("4 of 4 scales heard · the slowest 20/s");
    }
  }

  @Test
  void feedback_outside_the_tolerance_only_is_silent_inside_it() throws Exception {
    try (RehearsedPage page =
        RehearsedPage.open(Feedback.BANDWIDTH, false, ScriptedBrew.offPlan(3))) {
      Page tab = tab(page);
      walk(page, 2, FIRST_WATER + 5);
      // The first pour is on its plan: what was planned is all that stands there.
      assertThat(sky(tab, ".unit")).hasText("g in this pour");
      assertThat(sky(tab, ".figure")).hasText("42");
      assertThat(sky(tab, ".cue")).isEmpty();
      walk(page, FIRST_WATER + 5, FIRST_WATER + 54);
      // The second runs 1.3 g/s too fast.
      assertThat(sky(tab, ".unit")).hasText("g to go");
      assertThat(sky(tab, ".cue")).hasText("slower");
    }
  }

  @Test
  void fading_feedback_leaves_more_and_more_pours_to_the_brewer() throws Exception {
    try (RehearsedPage page = RehearsedPage.faded(5, ScriptedBrew.offPlan(3))) {
      Page tab = tab(page);
      walk(page, 2, FIRST_WATER + 5);
      assertThat(sky(tab, ".unit")).hasText("g to go");
      walk(page, FIRST_WATER + 5, FIRST_WATER + 54);
      // After five runs every other pour is guided, and the second is not one of them.
      assertThat(sky(tab, ".unit")).hasText("g in this pour");
      assertThat(sky(tab, ".cue")).isEmpty();
    }
  }

  @Test
  void one_key_voids_the_run_and_takes_it_back() throws Exception {
    try (RehearsedPage page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.onPlan(1))) {
      Page tab = tab(page);
      walk(page, 2, FIRST_WATER + 20);
      tab.keyboard().press("v");
      assertThat(tab.locator("#state")).containsText("void");
      assertThat(tab.locator("#void")).hasAttribute("aria-pressed", "true");
      tab.keyboard().press("PageUp");
      assertThat(tab.locator("#void")).hasAttribute("aria-pressed", "false");
      tab.keyboard().press("PageDown");
      assertThat(tab.locator(".next-why")).hasText("bed is dry");
      tab.keyboard().press("e");
      assertThat(tab.locator("#debrief")).containsText("ended by hand");
    }
  }

  @Test
  void the_next_run_begins_by_itself_on_the_same_page() throws Exception {
    try (RehearsedPage page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.onPlan(1))) {
      Page tab = tab(page);
      walk(page, 2, ScriptedBrew.END);
      assertThat(tab.locator("#debrief")).isVisible();
      page.rehearse(ScriptedBrew.onPlan(2));
      page.playTo(3);
      assertThat(tab.locator("#debrief")).isHidden();
      assertThat(tab.locator("#state")).containsText("armed");
    }
  }

  @Test
  void a_lost_program_is_told() throws Exception {
    RehearsedPage page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.onPlan(1));
    try {
      Page tab = tab(page);
      page.playTo(3);
      assertThat(tab.locator("#state")).containsText("armed");
      page.close();
      assertThat(tab.locator("#page-link")).containsText("lost the program");
    } finally {
      page.close();
    }
  }

  @Test
  void only_a_paired_device_of_the_network_sees_the_run() throws Exception {
    try (RehearsedPage page = RehearsedPage.open(Feedback.FULL, true, ScriptedBrew.onPlan(1))) {
      Assumptions.assumeFalse(
          page.lanAddresses().isEmpty(), "this machine has no address in a network");
      page.playTo(3);
      String address = page.lanAddresses().get(0).toString();
      Page tab = tab();
      tab.navigate(address);
      assertThat(tab).hasURL(address + "pair");
      tab.locator("#code").fill("AAAAAA");
      tab.locator("button").click();
      assertThat(tab.locator("#said")).containsText("That is not the code.");
      // As scanned: the code behind the hash pairs, and leaves the address.
      Page scanned = tab();
      scanned.navigate(address + "pair#" + page.code());
      assertThat(scanned).hasURL(address);
      assertThat(scanned.locator("#state")).containsText("armed");
      assertThat(context.cookies())
          .singleElement()
          .satisfies(
              cookie -> {
                assertThat(cookie.httpOnly).isTrue();
                assertThat(cookie.sameSite.name()).isEqualTo("STRICT");
              });
    }
  }

  @Test
  void cues_are_heard_once_after_the_page_was_touched() throws Exception {
    try (RehearsedPage page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.onPlan(1))) {
      context.addInitScript(
          "globalThis.tones = 0; const start = OscillatorNode.prototype.start;"
              + "OscillatorNode.prototype.start = function (at) {"
              + " globalThis.tones++; return start.call(this, at); };");
      Page tab = tab(page);
      page.playTo(3);
      assertThat(tab.locator("#state")).containsText("armed");
      tab.locator("#sound").click();
      assertThat(tab.locator("#sound-word")).hasText("sound on");
      walk(page, 4, FIRST_WATER + 20);
      // Ease off has three notes, stop two; a talk mark is one more.
      assertThat(tab.locator(".ribbon")).containsText("say:");
      assertThat((Integer) tab.evaluate("globalThis.tones")).isBetween(5, 8);
    }
  }

  @Test
  void whoever_wants_less_motion_gets_none() throws Exception {
    context.close();
    context =
        browser.newContext(
            new com.microsoft.playwright.Browser.NewContextOptions()
                .setReducedMotion(ReducedMotion.REDUCE));
    try (RehearsedPage page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.onPlan(1))) {
      Page tab = tab(page);
      page.playTo(3);
      for (String part : List.of(".water", ".line", ".sill")) {
        assertThat(tab.locator(part).first()).hasCSS("transition-duration", "0s");
      }
    }
  }

  /** ISO 9241-303: capitals of 20 to 22 minutes of arc; at 2 m that is 11.6 to 12.8 mm. */
  @Test
  void important_text_is_high_enough_for_two_metres() throws Exception {
    context.close();
    context =
        browser.newContext(
            new com.microsoft.playwright.Browser.NewContextOptions().setViewportSize(1366, 768));
    try (RehearsedPage page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.onPlan(1))) {
      Page tab = tab(page);
      walk(page, 2, FIRST_WATER + 5);
      String capital =
          "element => { const c = document.createElement('canvas').getContext('2d');"
              + " const s = getComputedStyle(element); c.font = `${s.fontWeight} ${s.fontSize}"
              + " Hyperlegible`; return c.measureText('H').actualBoundingBoxAscent * 25.4 / 96; }";
      for (String part : List.of(".unit", ".cue", ".flow")) {
        double millimetres = ((Number) sky(tab, part).evaluate(capital)).doubleValue();
        assertThat(millimetres).as(part).isBetween(11.6, 12.9);
      }
      assertThat(((Number) sky(tab, ".figure").evaluate(capital)).doubleValue())
          .isGreaterThan(25.6);
    }
  }

  @Test
  void axe_finds_no_violation_on_any_screen() throws Exception {
    for (ColorScheme scheme : List.of(ColorScheme.LIGHT, ColorScheme.DARK)) {
      context.close();
      context =
          browser.newContext(
              new com.microsoft.playwright.Browser.NewContextOptions().setColorScheme(scheme));
      try (RehearsedPage page = RehearsedPage.open(Feedback.FULL, false, ScriptedBrew.offPlan(1))) {
        Page tab = tab(page);
        page.playTo(3);
        assertThat(tab.locator("#state")).containsText("armed");
        axe(tab, "armed");
        walk(page, 4, FIRST_WATER + 53);
        axe(tab, "pouring");
        tab.keyboard().press("s");
        axe(tab, "settings");
        tab.keyboard().press("Escape");
        walk(page, FIRST_WATER + 53, ScriptedBrew.END);
        assertThat(tab.locator("#debrief table")).isVisible();
        axe(tab, "debrief");
        tab.navigate(page.address().resolve("/api").toString());
        axe(tab, "api");
        tab.navigate(page.address().resolve("/pair").toString());
        axe(tab, "pair");
      }
    }
  }

  private static void axe(Page tab, String screen) throws Exception {
    try (InputStream in = PageIT.class.getResourceAsStream("/axe.min.js")) {
      tab.evaluate(new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8));
    }
    Object found =
        tab.evaluate(
            "async () => (await axe.run()).violations.map(v => `${v.id}: "
                + "${v.nodes.map(n => n.html).join(' | ')}`)");
    assertThat((List<?>) found).as(screen).isEmpty();
  }
}
