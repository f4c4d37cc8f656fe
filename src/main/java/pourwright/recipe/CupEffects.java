package pourwright.recipe;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * What a change of the recipe does to the cup. All of it is common practice, no source: sentences
 * to taste against, not predictions.
 */
public final class CupEffects {

  private CupEffects() {}

  /** One sentence for each thing that changed and is said to matter; empty when none did. */
  public static List<String> of(Recipe before, Recipe after) {
    List<String> said = new ArrayList<>();
    double firstBefore = before.firstPour().grams() / before.opening().grams();
    double firstAfter = after.firstPour().grams() / after.opening().grams();
    if (differs(firstBefore, firstAfter)) {
      said.add(
          firstAfter < firstBefore
              ? "A smaller first pour in the opening favours sweetness."
              : "A larger first pour in the opening favours acidity.");
    }
    if (after.closingPours() != before.closingPours()) {
      said.add(
          after.closingPours() > before.closingPours()
              ? "More closing pours give a stronger cup."
              : "Fewer closing pours give a weaker cup.");
    }
    if (differs(before.ratio(), after.ratio())) {
      said.add(
          String.format(
              Locale.ROOT,
              after.ratio() > before.ratio()
                  ? "More water to the coffee (1:%.1f) makes a weaker cup and draws out more of the"
                      + " coffee."
                  : "Less water to the coffee (1:%.1f) makes a stronger cup and draws out less of"
                      + " the coffee.",
              after.ratio()));
    }
    if (!after.pace().getClass().equals(before.pace().getClass())) {
      said.add(
          after.pace() instanceof Pace.WhenDrained
              ? "Waiting until the bed has drained raises extraction."
              : "Pouring before the bed has drained lowers extraction.");
    }
    return said;
  }

  private static boolean differs(double a, double b) {
    return Math.abs(a - b) > 1e-6;
  }
}
