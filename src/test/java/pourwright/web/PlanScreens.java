package pourwright.web;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.file.Path;
import java.util.Locale;

/** Takes pictures of the plan page, to be looked at by a person. */
final class PlanScreens {
  private PlanScreens() {}

  public static void main(String[] args) throws Exception {
    Path folder = Path.of(args[0]);
    try (Playwright playwright = Browser.playwright();
        com.microsoft.playwright.Browser browser = Browser.launch(playwright);
        PlanPage page = new PlanPage(folder.resolve("plans"))) {
      for (ColorScheme scheme : new ColorScheme[] {ColorScheme.LIGHT, ColorScheme.DARK}) {
        for (int[] size : new int[][] {{1366, 768}, {1024, 768}, {390, 844}}) {
          take(browser, page, folder, scheme, size);
        }
      }
    }
  }

  private static void take(
      com.microsoft.playwright.Browser browser,
      PlanPage page,
      Path folder,
      ColorScheme scheme,
      int[] size) {
    try (BrowserContext context =
        browser.newContext(
            new com.microsoft.playwright.Browser.NewContextOptions()
                .setViewportSize(size[0], size[1])
                .setColorScheme(scheme))) {
      Page tab = context.newPage();
      tab.onConsoleMessage(told -> System.out.println(told.text()));
      tab.onPageError(System.out::println);
      String name = size[0] + "-" + scheme.name().toLowerCase(Locale.ROOT);
      tab.navigate(page.address().toString());
      tab.waitForSelector("#drawing svg");
      tab.waitForTimeout(300);
      shoot(tab, folder.resolve("usual-" + name + ".png"), size[0] < 600);
      tab.locator("#closing-count").fill("2");
      tab.locator("[data-share=start]").selectOption("drained");
      tab.locator("input[type=number][data-share=first_g]").fill("70");
      tab.locator(".kit summary").click();
      tab.locator("[data-kit=fill_g]").fill("320");
      tab.locator("[data-kit=most_flow_g_per_s]").fill("5");
      tab.locator("[data-kit=rim_mm]").fill("58");
      tab.waitForTimeout(900);
      shoot(tab, folder.resolve("changed-" + name + ".png"), size[0] < 600);
      tab.locator("[name=mode][value=pours]").check();
      tab.waitForTimeout(600);
      shoot(tab, folder.resolve("pours-" + name + ".png"), size[0] < 600);
    }
  }

  private static void shoot(Page tab, Path file, boolean isWhole) {
    tab.screenshot(new Page.ScreenshotOptions().setPath(file).setFullPage(isWhole));
  }
}
