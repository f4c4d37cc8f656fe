package pourwright.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.Test;

/** The review page in a real browser, told made-up reviews. */
class ReviewPageIT {
  private static final String HOSTILE = "<img src=x onerror=document.title='hacked'> thin";

  private static final String RUNS =
      """
      {"format": 1, "more": false, "plans": ["Test plan"], "runs": [
        {"run": 7, "at": "2026-11-20T17:00:00Z", "plan": "Test plan", "brewer": "Ada",
         "feedback": "blind", "simulated": false, "void": true, "planned": 3, "inside": 2,
         "deviation_index": 0.7, "note": "NOTE"}]}
      """
          .replace("NOTE", HOSTILE);

  private static final String SERIES =
      """
      "runs": 12, "mean": 0.61, "mean_low": 0.5, "mean_high": 0.72, "scatter": 0.2,
      "scatter_low": 0.1, "scatter_high": 0.3, "outliers": [3],
      "trend": {"slope_per_run": -0.02, "clear": true}
      """;

  private static final String PLAN =
      """
      {"format": 1, "void_runs": 1, "runs_without_plan": 0,
       "reviews": [{"plan": "Test plan", "runs": 12, "simulated": false},
                   {"plan": "Test plan", "runs": 3, "simulated": true}],
       "charts": {"row": "SVG", "habits": "SVG", "course": "SVG"},
       "review": {"plan": "Test plan", "simulated": false,
         "lesson": {"sentence": "Work on the start of pour 3.", "evidence": "29 % of all."},
         "deviation_index": {SERIES},
         "pours": [{"pour": 1, "errors": [{"of": "mass", SERIES,
            "within": {"successes": 3, "of": 4, "low": 0.2, "high": 0.99},
            "capability": {"cpk": -0.2}}]}],
         "costs": [{"say": "start of pour 3", "part": 0.29}],
         "readiness": {"say": ["Not shown yet."]},
         "feedback": {"kinds": [{"say": "blind", SERIES}], "say": ["Guidance carries you."]},
         "cup": {"cups": [], "scores": [], "links": []}}}
      """
          .replace("SERIES", SERIES)
          .replace(
              "SVG",
              "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9' role='img'"
                  + " aria-label='chart' onload='document.title=1'>"
                  + "<script>document.title='hacked'</script>"
                  + "<path class='stroke-now' d='M0 0L9 9'/></svg>");

  private static final String RUN =
      """
      {"format": 1, "run": 7, "at": "2026-11-20T17:00:00Z", "plan": "Test plan", "brewer": "Ada",
       "feedback": "blind", "simulated": false, "void": true, "deviation_index": 0.7,
       "note": "NOTE", "corridor": null,
       "cup": {"strength_pct": 1.34, "strength_u": 0.03, "extraction_pct": null},
       "judged": [{"planned": 1, "verdict": "outside", "mass_error_g": 2.4,
         "start_error_s": 0, "flow_error_g_per_s": -0.3, "reasons": ["2.4 g too much"]}]}
      """
          .replace("NOTE", HOSTILE);

  private final List<String> asked = new CopyOnWriteArrayList<>();

  private Optional<Answer> answer(Question question) {
    asked.add(question.path() + question.parameters());
    return switch (question.path()) {
      case "/api/v1/review/runs" -> Optional.of(Answer.json(RUNS));
      case "/api/v1/review/plan" ->
          Optional.of(
              question.findParameter("text").isPresent()
                  ? Answer.no(404, "No run fits that.")
                  : Answer.json(PLAN));
      case "/api/v1/review/run" -> Optional.of(Answer.json(RUN));
      default -> Optional.empty();
    };
  }

  @Test
  void the_page_shows_reviews_and_runs_and_takes_words_for_words() throws Exception {
    Pairing pairing = new Pairing(new SecureRandom(), System::nanoTime, code -> {});
    List<String> errors = new ArrayList<>();
    try (PageServer server =
            PageServer.open(
                new PageSettings(0, false), new LivePage(), pairing, List.of(this::answer));
        Playwright playwright = Browser.playwright();
        com.microsoft.playwright.Browser browser = Browser.launch(playwright);
        BrowserContext context = browser.newContext()) {
      Page tab = context.newPage();
      tab.setDefaultTimeout(120_000);
      tab.onPageError(errors::add);
      tab.navigate(server.address().resolve("/review").toString());
      tab.waitForSelector(".lesson");
      assertThat(tab.textContent(".lesson")).isEqualTo("Work on the start of pour 3.");
      assertThat(tab.textContent("#review"))
          .contains("+0.6 (+0.5 to +0.7)", "3 of 4 (20 to 99 %)", "−0.20", "−0.020 a run", "run 3")
          .contains("Left out: 1 void, 0 without a plan.");
      assertThat(tab.textContent(".run-list")).contains("2 of 3", HOSTILE);
      assertThat(tab.querySelectorAll("img")).isEmpty();
      assertThat(tab.textContent(".bar [aria-current]")).isEqualTo("Review");
      axe(tab);

      tab.click(".which-review button >> nth=1");
      tab.waitForSelector(".which-review button >> nth=1");
      tab.click(".run-list a");
      tab.waitForSelector(".note");
      assertThat(tab.textContent(".note")).isEqualTo(HOSTILE);
      assertThat(tab.textContent("#review"))
          .contains("One pour not inside, deviation index 0.70.", "2.4 g too much")
          .contains("Strength 1.34 ± 0.06 %, the beverage was not weighed.");
      assertThat(tab.getAttribute("#print", "href")).isEqualTo("/api/v1/review/run.pdf?run=7");
      axe(tab);

      tab.fill("#text", "nothing");
      tab.waitForSelector("#trouble:not([hidden])");
      assertThat(tab.textContent("#trouble")).isEqualTo("No run fits that.");
      assertThat(tab.title()).doesNotContain("hacked");
      assertThat(asked).anyMatch(each -> each.contains("text=nothing"));
    }
    assertThat(errors).isEmpty();
  }

  private static void axe(Page tab) throws Exception {
    try (InputStream in = ReviewPageIT.class.getResourceAsStream("/axe.min.js")) {
      tab.evaluate(new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8));
    }
    Object found =
        tab.evaluate(
            "async () => (await axe.run()).violations.map(v => `${v.id}: "
                + "${v.nodes.map(n => n.target).join(' ')}`).join('\\n')");
    assertThat(found).isEqualTo("");
  }
}
