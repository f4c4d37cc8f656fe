package pourwright.simulate;

import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * A brewer and a scale that can be named in {@code sim:NAME}.
 *
 * @param about one line for the list of simulations
 */
public record Scenario(
    String name, String about, Skill skill, ScaleTraits scale, Set<Mishap> mishaps) {

  private static final List<Scenario> ALL =
      List.of(
          new Scenario(
              "bench", "skilled brewer, good scale", Skill.SKILLED, ScaleTraits.GOOD, Set.of()),
          new Scenario(
              "stage", "nervous brewer, good scale", Skill.NERVOUS, ScaleTraits.GOOD, Set.of()),
          new Scenario(
              "novice", "learning brewer, good scale", Skill.LEARNING, ScaleTraits.GOOD, Set.of()),
          new Scenario(
              "slow-scale",
              "skilled brewer, scale that shows weights half a second late",
              Skill.SKILLED,
              ScaleTraits.SLOW,
              Set.of()),
          new Scenario(
              "coarse-scale",
              "skilled brewer, scale that shows whole grams",
              Skill.SKILLED,
              ScaleTraits.COARSE,
              Set.of()),
          new Scenario(
              "board",
              "skilled brewer, bare load-cell board with 80 readings a second",
              Skill.SKILLED,
              ScaleTraits.BOARD,
              Set.of()),
          new Scenario(
              "bursts",
              "nervous brewer, radio link that delivers readings in bursts",
              Skill.NERVOUS,
              ScaleTraits.BURSTS,
              Set.of()),
          new Scenario(
              "rough",
              "nervous brewer, everything that can happen to a rig",
              Skill.NERVOUS,
              ScaleTraits.GOOD,
              Set.of(Mishap.values())));

  public Scenario {
    mishaps = Set.copyOf(mishaps);
  }

  /** All that can be named, in the order to show them. */
  public static List<Scenario> list() {
    return ALL;
  }

  public static Optional<Scenario> findByName(String name) {
    return ALL.stream().filter(scenario -> scenario.name.equals(name)).findFirst();
  }

  /** The same scene with another brewer, to simulate somebody who practises. */
  public Scenario withSkill(Skill other) {
    return new Scenario(name, about, other, scale, mishaps);
  }
}
