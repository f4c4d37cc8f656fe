package pourwright.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Holds the colours of the page to WCAG 2.2: text 4.5 to 1 (1.4.3), what carries meaning without
 * being text 3 to 1 (1.4.11).
 */
class TokenContrastTest {
  private static final Pattern BLOCK =
      Pattern.compile("(:root(?:\\[data-theme=\"dark\"\\])?) \\{(.*?)\\n\\}", Pattern.DOTALL);
  private static final Pattern TOKEN = Pattern.compile("--([a-z-]+): (#[0-9a-f]{6});");

  private static Map<String, String> tokens(boolean isDark) throws Exception {
    String css;
    try (InputStream in =
        TokenContrastTest.class.getResourceAsStream("/pourwright/page/page.css")) {
      css = new String(java.util.Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
    }
    Map<String, String> found = new TreeMap<>();
    Matcher block = BLOCK.matcher(css);
    while (block.find()) {
      if (block.group(1).equals(":root") || isDark) {
        Matcher token = TOKEN.matcher(block.group(2));
        while (token.find()) {
          found.put(token.group(1), token.group(2));
        }
      }
    }
    return found;
  }

  /** WCAG 2.2, relative luminance. */
  private static double luminance(String colour) {
    double[] weights = {0.2126, 0.7152, 0.0722};
    double sum = 0;
    for (int i = 0; i < 3; i++) {
      double c = Integer.parseInt(colour.substring(1 + 2 * i, 3 + 2 * i), 16) / 255.0;
      sum += weights[i] * (c <= 0.04045 ? c / 12.92 : Math.pow((c + 0.055) / 1.055, 2.4));
    }
    return sum;
  }

  private static double contrast(String one, String other) {
    double a = luminance(one);
    double b = luminance(other);
    return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  }

  @Test
  void the_formula_gives_published_ratios() {
    Offset<Double> close = Offset.offset(0.005);
    assertThat(contrast("#000000", "#ffffff")).isCloseTo(21.0, close);
    assertThat(contrast("#0000ff", "#ffffff")).isCloseTo(8.59, close);
    assertThat(contrast("#767676", "#ffffff")).isCloseTo(4.54, close);
  }

  @ParameterizedTest(name = "{0} on {1}, dark {2}")
  @CsvSource({
    "ink, paper",
    "faint, paper",
    "outside, paper",
    "now, paper",
    "on-sky, sky",
    "on-water, water",
    "on-water, grain",
    "on-now, now",
    "on-outside, outside",
    "ink, corridor"
  })
  void text_stands_out(String text, String ground) throws Exception {
    for (boolean isDark : new boolean[] {false, true}) {
      assertThat(contrast(colour(text, isDark), colour(ground, isDark)))
          .as("%s on %s, dark %s", text, ground, isDark)
          .isGreaterThanOrEqualTo(4.5);
    }
  }

  @ParameterizedTest(name = "{0} beside {1}")
  @CsvSource({"sky, water", "rule, paper", "now, sky", "outside, sky", "ink, corridor"})
  void what_carries_meaning_stands_out(String mark, String ground) throws Exception {
    for (boolean isDark : new boolean[] {false, true}) {
      assertThat(contrast(colour(mark, isDark), colour(ground, isDark)))
          .as("%s beside %s, dark %s", mark, ground, isDark)
          .isGreaterThanOrEqualTo(3.0);
    }
  }

  private static String colour(String token, boolean isDark) throws Exception {
    String colour = tokens(isDark).get(token);
    assertThat(colour).as(token).isNotNull();
    return java.util.Objects.requireNonNull(colour);
  }
}
