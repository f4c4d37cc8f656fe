package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import pourwright.coach.Feedback;
import pourwright.session.Command;
import pourwright.session.Moments;
import pourwright.session.Played;
import pourwright.session.RehearsalView;
import pourwright.session.RehearsalView.Standing;
import pourwright.units.Mass;

class KeysTest {
  private final Keys keys = new Keys();

  private List<Command> typed(String text, @Nullable RehearsalView view) {
    List<Command> told = new ArrayList<>();
    text.chars().forEach(key -> told.addAll(keys.press((char) key, view)));
    return told;
  }

  /** One brewer after two pours. */
  private static RehearsalView poured() throws InterruptedException {
    List<RehearsalView> views = Moments.of(Feedback.FULL, Played.weights(60, Played::twoPours));
    return views.get(views.size() - 1);
  }

  private static RehearsalView moved() throws InterruptedException {
    return Moments.withMovedScale(poured(), 3, new Standing(1, false));
  }

  @Test
  void every_key_has_its_command_and_others_have_none() throws InterruptedException {
    assertThat(typed("vqx\003", poured()))
        .containsExactly(new Command.VoidRun(), new Command.Stop(), new Command.Stop());
    assertThat(typed("dt", poured()))
        .containsExactly(new Command.MarkDrained(1), new Command.Tare(1));
    assertThat(typed("dt4\r", null)).isEmpty();
  }

  @Test
  void typed_figures_are_a_guess_of_the_last_pour() throws InterruptedException {
    assertThat(typed("58.5\r", poured()))
        .containsExactly(new Command.Estimate(1, 2, Mass.ofMilligrams(58_500)));
    assertThat(typed("\r..\r7\n", poured()))
        .containsExactly(new Command.Estimate(1, 2, Mass.ofGrams(7)));
    assertThat(typed("123456789\r", poured()))
        .containsExactly(new Command.Estimate(1, 2, Mass.ofGrams(123_456)));
  }

  @Test
  void a_figure_names_the_brewer_under_whom_a_moved_scale_stands() throws InterruptedException {
    assertThat(typed("2313", moved()))
        .containsExactly(
            new Command.ScaleIsUnder(2),
            new Command.ScaleIsUnder(3),
            new Command.ScaleIsUnder(1),
            new Command.ScaleIsUnder(3));
    assertThat(typed("049.:\r", moved())).isEmpty();
  }
}
