package pourwright.web;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import pourwright.coach.Feedback;

/**
 * Takes pictures of every screen, to be looked at by a person.
 *
 * <p>Arguments: the folder for them; the moments by comma ({@code armed}, {@code pouring}, {@code
 * draining}, {@code late}, {@code lost}, {@code debrief}, {@code settings}, each also with {@code
 * two-}, {@code three-}, {@code four-} or {@code blind-} before it); devices and schemes such as
 * {@code laptop-light}, all without it.
 */
final class Screens {
  private record Device(String name, int width, int height) {}

  private static final Device PHONE = new Device("phone", 390, 844);
  private static final Device TABLET = new Device("tablet", 1024, 768);
  private static final Device LAPTOP = new Device("laptop", 1366, 768);

  private Screens() {}

  /** Moments of the recording worth a look (s). */
  private static final Map<String, Double> MOMENTS =
      Map.of("armed", 3.0, "pouring", 57.6, "draining", 86.0, "late", 96.6);

  public static void main(String[] args) throws Exception {
    Path folder = Path.of(args[0]);
    try (Playwright playwright = Browser.playwright();
        com.microsoft.playwright.Browser browser = Browser.launch(playwright)) {
      for (String moment : args[1].split(",", -1)) {
        for (Device device : new Device[] {LAPTOP, TABLET, PHONE}) {
          for (ColorScheme scheme : new ColorScheme[] {ColorScheme.LIGHT, ColorScheme.DARK}) {
            if (args.length > 2
                && !args[2].contains(
                    device.name() + "-" + scheme.name().toLowerCase(java.util.Locale.ROOT))) {
              continue;
            }
            take(browser, folder, moment, device, scheme);
          }
        }
      }
    }
  }

  private static void take(
      com.microsoft.playwright.Browser browser,
      Path folder,
      String moment,
      Device device,
      ColorScheme scheme)
      throws Exception {
    int lanes =
        Math.max(1, 1 + List.of("one", "two", "three", "four").indexOf(moment.split("-", 2)[0]));
    boolean isBlind = moment.startsWith("blind");
    Feedback feedback = isBlind ? Feedback.BLIND : Feedback.FULL;
    ScriptedBrew first = ScriptedBrew.offPlan(3);
    if (moment.equals("lost")) {
      first.lost(55, 100);
    }
    List<ScriptedBrew> brews = new ArrayList<>(List.of(first));
    for (int lane = 2; lane <= lanes; lane++) {
      brews.add(ScriptedBrew.onPlan(lane + 2));
    }
    try (RehearsedPage page =
            RehearsedPage.open(
                feedback, moment.equals("settings"), brews.toArray(ScriptedBrew[]::new));
        BrowserContext context =
            browser.newContext(
                new com.microsoft.playwright.Browser.NewContextOptions()
                    .setViewportSize(device.width(), device.height())
                    .setColorScheme(scheme))) {
      Page tab = context.newPage();
      tab.onConsoleMessage(told -> System.out.println(moment + ": " + told.text()));
      tab.onPageError(error -> System.out.println(moment + ": ERROR " + error));
      page.playTo(2);
      tab.navigate(page.address().toString());
      tab.waitForSelector(".figure");
      String name = moment.replaceFirst("^(two|three|four|blind)-", "");
      double to = MOMENTS.getOrDefault(name, name.equals("debrief") ? ScriptedBrew.END : 60.0);
      for (double at = 2; at < to; at += 4) {
        page.playTo(at);
        tab.waitForTimeout(15);
      }
      page.playTo(to);
      tab.waitForTimeout(900);
      if (moment.equals("settings")) {
        tab.keyboard().press("s");
        tab.waitForTimeout(500);
      }
      tab.screenshot(
          new Page.ScreenshotOptions()
              .setPath(
                  folder.resolve(
                      moment
                          + "-"
                          + device.name()
                          + "-"
                          + scheme.name().toLowerCase(java.util.Locale.ROOT)
                          + ".png")));
    }
  }
}
