package pourwright.web;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

/** What keeps a page from being usable by everybody, on the screen on which it is shown. */
public final class Usability {
  /** A phone and a tablet in a stand, worked with fingers; a laptop with a mouse. */
  public enum Screen {
    PHONE(390, 844),
    TABLET(820, 1180),
    LAPTOP(1280, 800);

    private final int width;
    private final int height;

    Screen(int width, int height) {
      this.width = width;
      this.height = height;
    }

    public BrowserContext opened(com.microsoft.playwright.Browser browser) {
      return browser.newContext(
          new com.microsoft.playwright.Browser.NewContextOptions()
              .setViewportSize(width, height)
              .setHasTouch(this != LAPTOP));
    }
  }

  private static final String CUT_OFF =
      "[...document.querySelectorAll('body *')].filter(e => { const box ="
          + " e.getBoundingClientRect(); return box.width > 0 &&"
          + " !e.parentElement.closest('[tabindex]') && (box.right > innerWidth + 1 || box.left <"
          + " -1 || (!e.matches('input, select') && e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflowX ==="
          + " 'hidden' && !e.matches('.unseen'))); })";

  private static final String HARD_TO_HIT =
      "[...document.querySelectorAll('button, a, input, select, summary')].filter(e => { const box"
          + " = (e.closest('label.tick') || e).getBoundingClientRect(); return box.width > 0 &&"
          + " (box.width < 44 || box.height < 44); })";

  private static final String NAMED =
      ".map(e => `${e.tagName} ${e.id} ${e.className} ${e.textContent.slice(0, 30)}`)";

  private Usability() {}

  /**
   * All that is wrong: what axe finds in both lights, what is cut off at the sides, and what is too
   * small for a finger (44 px) where fingers are used.
   */
  public static List<String> complaints(Page tab) throws IOException {
    String axe;
    try (InputStream in = Usability.class.getResourceAsStream("/axe.min.js")) {
      axe = new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
    }
    List<String> all = new ArrayList<>();
    for (ColorScheme scheme : new ColorScheme[] {ColorScheme.LIGHT, ColorScheme.DARK}) {
      tab.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(scheme));
      tab.evaluate(axe);
      Object found =
          tab.evaluate(
              "axe.run().then(r => r.violations.map(v => v.id + ': ' +"
                  + " v.nodes.map(n => n.target).join(' ')))");
      add(all, scheme + ": ", found);
    }
    add(all, "cut off: ", tab.evaluate(CUT_OFF + NAMED));
    if (Boolean.TRUE.equals(tab.evaluate("matchMedia('(pointer: coarse)').matches"))) {
      Object found = tab.evaluate(HARD_TO_HIT + NAMED);
      // under load a browser can be late in telling its styles that there are fingers
      for (int i = 0; i < 20 && !((List<?>) found).isEmpty(); i++) {
        tab.waitForTimeout(100);
        found = tab.evaluate(HARD_TO_HIT + NAMED);
      }
      add(all, "hard to hit: ", found);
    }
    return all;
  }

  private static void add(List<String> all, String what, Object found) {
    ((List<?>) found).forEach(one -> all.add(what + one));
  }
}
