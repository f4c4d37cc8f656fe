package pourwright.recipe;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * What a change of the recipe does to the cup. All of it is common practice, no source: sentences
 * to taste against, not predictions.
 */
public final class CupEffects {

  /** A smaller change of the first pour's part is only the scale's rounding; own choice. */
  private static final double FIRST_PART = 0.02;

  /** A smaller change of the ratio does not show in its tenths. */
  private static final double RATIO = 0.05;

  private CupEffects() {}

  /** One sentence for each thing that changed and is said to matter; empty when none did. */
  public static List<String> of(Scheme before, Scheme after) {
    List<String> said = new ArrayList<>();
    if (Math.abs(before.firstOfOpening() - after.firstOfOpening()) > FIRST_PART) {
      said.add(
          after.firstOfOpening() < before.firstOfOpening()
              ? "A smaller first pour in the opening favours sweetness."
              : "A larger first pour in the opening favours acidity.");
    }
    if (after.closingPours() != before.closingPours()) {
      said.add(
          after.closingPours() > before.closingPours()
              ? "More closing pours give a stronger cup."
              : "Fewer closing pours give a weaker cup.");
    }
    if (Math.abs(before.ratio() - after.ratio()) > RATIO) {
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
    if (after.waitsForBed() != before.waitsForBed()) {
      said.add(
          after.waitsForBed()
              ? "Waiting until the bed has drained raises extraction."
              : "Pouring before the bed has drained lowers extraction.");
    }
    if (before.kettleCelsius().isPresent() && after.kettleCelsius().isPresent()) {
      double hotter = after.kettleCelsius().getAsDouble() - before.kettleCelsius().getAsDouble();
      if (hotter > 0) {
        said.add("Hotter water draws out more, and faster.");
      } else if (hotter < 0) {
        said.add("Cooler water draws out less, and slower.");
      }
    }
    return said;
  }
}
