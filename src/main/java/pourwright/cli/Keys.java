package pourwright.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.function.IntFunction;
import org.jspecify.annotations.Nullable;
import pourwright.session.Command;
import pourwright.session.LaneView;
import pourwright.session.RehearsalView;
import pourwright.session.SeenPour;
import pourwright.units.Mass;

/** What the keys of a terminal mean in a rehearsal. For one thread. */
final class Keys {
  private static final int MOST_DIGITS = 6;

  private final StringBuilder typed = new StringBuilder();

  /**
   * The commands of one key; most keys have none.
   *
   * @param view the newest; null before the first
   */
  List<Command> press(char key, @Nullable RehearsalView view) {
    return switch (key) {
      case 'v' -> List.of(new Command.VoidRun());
      case 'd' -> everyLane(view, Command.MarkDrained::new);
      case 't' -> everyLane(view, Command.Tare::new);
      case 'q', '\003' -> List.of(new Command.Stop());
      case '\r', '\n' -> estimate(view);
      default -> typed(key, view);
    };
  }

  private static List<Command> everyLane(@Nullable RehearsalView view, IntFunction<Command> made) {
    List<Command> commands = new ArrayList<>();
    if (view != null) {
      view.lanes().forEach(lane -> commands.add(made.apply(lane.number())));
    }
    return commands;
  }

  /** A figure names the brewer under whose rig a moved scale stands; else it is a guess begun. */
  private List<Command> typed(char key, @Nullable RehearsalView view) {
    if (view != null && view.movedScale().isPresent()) {
      int lane = key - '0';
      return view.lanes().stream().anyMatch(each -> each.number() == lane)
          ? List.of(new Command.ScaleIsUnder(lane))
          : List.of();
    }
    if ((Character.isDigit(key) || key == '.') && typed.length() < MOST_DIGITS) {
      typed.append(key);
    }
    return List.of();
  }

  /** A typed number is the brewer's own guess of the last pour of the first lane. */
  private List<Command> estimate(@Nullable RehearsalView view) {
    List<Command> commands = new ArrayList<>();
    try {
      Mass guess = Mass.ofGrams(Double.parseDouble(typed.toString()));
      if (view != null && !view.lanes().isEmpty()) {
        LaneView lane = view.lanes().get(0);
        lane.pours().stream()
            .reduce((first, second) -> second)
            .map(SeenPour::index)
            .ifPresent(pour -> commands.add(new Command.Estimate(lane.number(), pour, guess)));
      }
    } catch (NumberFormatException nothingTyped) {
      // Enter without a number says nothing.
    }
    typed.setLength(0);
    return commands;
  }
}
