package pourwright.cli;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.MassUnit;
import pourwright.units.SessionTime;

/** One pour as typed in one word: {@code 60@45}, {@code 60@+30/5.5}, {@code 60@drained:45}. */
final class TypedPour {
  private static final String NUMBER = "\\d{1,5}(?:\\.\\d{1,9})?";
  private static final Pattern WORD =
      Pattern.compile(
          "(?<mass>"
              + NUMBER
              + ")@(?<rule>\\+|drained:|)(?<at>"
              + NUMBER
              + ")(?:/(?<flow>"
              + NUMBER
              + "))?");

  private TypedPour() {}

  /**
   * Reads one pour.
   *
   * @param flow when the word names none
   * @throws IllegalArgumentException when it is none; the message says how to write one
   */
  static PlannedPour read(String word, int index, Flow flow) {
    Matcher match = WORD.matcher(word);
    if (!match.matches()) {
      throw new IllegalArgumentException(
          "write grams@seconds, grams@+seconds or grams@drained:seconds, then /flow if you like;"
              + " as in 60@drained:45/5.5");
    }
    BigDecimal at = new BigDecimal(match.group("at"));
    Start start =
        switch (match.group("rule")) {
          case "+" -> new Start.AfterEnd(Duration.ofNanos(nanos(at)));
          case "drained:" -> new Start.WhenDrained(SessionTime.ofNanos(nanos(at)));
          default -> new Start.AtClock(SessionTime.ofNanos(nanos(at)));
        };
    String told = match.group("flow");
    PlannedPour pour =
        new PlannedPour(
            index,
            Mass.of(new BigDecimal(match.group("mass")), MassUnit.GRAM),
            told == null ? flow : Flow.ofGramsPerSecond(Double.parseDouble(told)),
            start);
    if (pour.add().equals(Mass.ZERO) || pour.flow().equals(Flow.ZERO)) {
      throw new IllegalArgumentException("mass and flow must be more than zero");
    }
    return pour;
  }

  private static long nanos(BigDecimal seconds) {
    return seconds.movePointRight(9).setScale(0, RoundingMode.HALF_EVEN).longValueExact();
  }
}
