package pourwright.simulate;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * A scale to be checked that can be named in {@code sim:NAME}: those of the simulated brewers, and
 * some with flaws.
 *
 * @param about one line for the list
 */
public record TestScenario(String name, String about, ScaleTraits traits, Flaws flaws) {
  private static final ScaleTraits RESTLESS =
      new ScaleTraits(10, 0.15, 1, 0.03, 0.1, 0.25, false, 1, 0.004);

  private static final List<TestScenario> ALL =
      Stream.concat(
              Scenario.list().stream()
                  .map(one -> new TestScenario(one.name(), one.about(), one.scale(), Flaws.NONE)),
              Stream.of(
                  new TestScenario(
                      "bent",
                      "bends by 0.8 g in mid range, hysteresis 0.5 g",
                      ScaleTraits.GOOD,
                      Flaws.NONE.withBowGrams(0.8).withHysteresisGrams(0.5)),
                  new TestScenario(
                      "tilted",
                      "shows too much on the right and too little in front",
                      ScaleTraits.GOOD,
                      Flaws.NONE.withCorners(0.004, 0.002)),
                  new TestScenario(
                      "freezing",
                      "hides changes of less than 0.5 g, then jumps",
                      ScaleTraits.GOOD,
                      Flaws.NONE.withFreezeGrams(0.5)),
                  new TestScenario(
                      "drifting",
                      "drifts, and zero is 1.5 g off while it warms up",
                      RESTLESS,
                      Flaws.NONE.withWarmUp(1.5, 90)),
                  new TestScenario(
                      "late",
                      "filters for 0.55 s and hears of a load 0.2 s too late",
                      ScaleTraits.SLOW,
                      Flaws.NONE.withDeadSeconds(0.2))))
          .toList();

  /** All that can be named, in the order to show them. */
  public static List<TestScenario> list() {
    return ALL;
  }

  public static Optional<TestScenario> findByName(String name) {
    return ALL.stream().filter(one -> one.name().equals(name)).findFirst();
  }
}
