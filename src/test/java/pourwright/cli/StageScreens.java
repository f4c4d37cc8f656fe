package pourwright.cli;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.ColorScheme;
import java.nio.file.Path;
import java.util.Locale;
import pourwright.stage.Chore;
import pourwright.stage.Timetable.Slot;
import pourwright.web.Browser;

/** Takes pictures of the stage page, to be looked at by a person. */
final class StageScreens {
  private StageScreens() {}

  public static void main(String[] args) throws Exception {
    Path folder = Path.of(args[0]);
    try (Playwright playwright = Browser.playwright();
        com.microsoft.playwright.Browser browser = Browser.launch(playwright);
        RehearsedStage ready = RehearsedStage.byHand();
        RehearsedStage moved = RehearsedStage.moved();
        RehearsedStage led = RehearsedStage.led()) {
      ready(browser, ready, folder);
      moved.playToFirstWater();
      take(browser, moved, folder, "moved", ColorScheme.LIGHT);
      led.playToFirstWater();
      for (Slot slot : led.timetable.slots()) {
        Chore chore = slot.job().chore();
        if ((chore == Chore.POUR && slot.job().pour() == 2) || chore == Chore.SPEAK) {
          led.playToStage((slot.startSeconds() + slot.endSeconds()) / 2.0);
          String name = chore.name().toLowerCase(Locale.ROOT) + (slot.job().station() + 1);
          take(browser, led, folder, name, ColorScheme.LIGHT);
        } else if (chore == Chore.LIFT) {
          led.playToStage(slot.endSeconds() - 0.5);
          take(browser, led, folder, "lift", ColorScheme.DARK);
          break;
        }
      }
    }
  }

  private static void ready(
      com.microsoft.playwright.Browser browser, RehearsedStage stage, Path folder) {
    take(browser, stage, folder, "ready", ColorScheme.LIGHT);
  }

  private static void take(
      com.microsoft.playwright.Browser browser,
      RehearsedStage stage,
      Path folder,
      String name,
      ColorScheme scheme) {
    for (int[] size : new int[][] {{390, 844}, {820, 1180}, {1280, 800}}) {
      try (BrowserContext context =
          browser.newContext(
              new com.microsoft.playwright.Browser.NewContextOptions()
                  .setViewportSize(size[0], size[1])
                  .setHasTouch(size[0] < 1000)
                  .setColorScheme(scheme))) {
        Page tab = context.newPage();
        tab.onPageError(System.out::println);
        tab.navigate(stage.address().toString());
        tab.waitForSelector("#lanes svg");
        tab.waitForTimeout(1_200);
        tab.screenshot(
            new Page.ScreenshotOptions()
                .setPath(folder.resolve("stage-" + name + "-" + size[0] + ".png"))
                .setFullPage(name.equals("ready")));
      }
    }
  }
}
