package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import pourwright.coach.Feedback;
import pourwright.device.Transport.Arrival;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.Moments;
import pourwright.session.Phase;
import pourwright.session.PlacedScale;
import pourwright.session.Played;
import pourwright.session.Rehearsal;
import pourwright.session.RehearsalView;
import pourwright.session.Setup;
import pourwright.units.SessionTime;

@Timeout(60)
class LiveTextTest {
  private static final int ROWS = 30;
  private static final int COLUMNS = 90;

  private static List<RehearsalView> twoPours(Feedback feedback) throws InterruptedException {
    return Moments.of(feedback, Played.weights(60, Played::twoPours));
  }

  private static PlacedScale whole(int lane) {
    return Played.scale(lane, Place.WHOLE, Played.weights(60, Played::twoPours));
  }

  private static String text(RehearsalView view) {
    return String.join("\n", LiveText.of(view, COLUMNS, ROWS));
  }

  @Test
  void every_moment_fits_every_terminal() throws InterruptedException {
    List<RehearsalView> seen = new CopyOnWriteArrayList<>(twoPours(Feedback.FULL));
    Setup two = Played.setup(List.of(Rig.WHOLE, Rig.WHOLE), List.of(whole(1), whole(2)));
    new Rehearsal(two, List.of(), List.of(seen::add)).run();

    for (RehearsalView view : seen) {
      for (int[] size : new int[][] {{20, 4}, {40, 12}, {90, 30}, {200, 60}}) {
        List<String> lines = LiveText.of(view, size[0], size[1]);
        assertThat(lines).hasSizeLessThanOrEqualTo(size[1]);
        assertThat(lines)
            .allSatisfy(line -> assertThat(line.length()).isLessThanOrEqualTo(size[0]));
      }
    }
  }

  @Test
  void where_one_scale_is_moved_the_figures_are_the_brewers() throws InterruptedException {
    List<RehearsalView> seen = twoPours(Feedback.FULL);
    RehearsalView last = seen.get(seen.size() - 1);
    assertThat(text(last)).contains("own guess: type grams");
    RehearsalView moved = Moments.withMovedScale(last, 3, new RehearsalView.Standing(2, false));
    assertThat(text(moved))
        .contains("1-3 whose rig is on the scale")
        .doesNotContain("own guess: type grams");
  }

  @Test
  void each_phase_says_what_to_do() throws InterruptedException {
    List<RehearsalView> seen = twoPours(Feedback.FULL);

    assertThat(seen)
        .filteredOn(view -> view.phase() == Phase.ARMED)
        .isNotEmpty()
        .allSatisfy(view -> assertThat(text(view)).contains("READY", "pour 1, 40.0 g"));
    assertThat(seen)
        .filteredOn(view -> view.lanes().get(0).guidance().flatMap(now -> now.toGo()).isPresent())
        .isNotEmpty()
        .allSatisfy(view -> assertThat(text(view)).contains("to go", "flow", "behind", "ahead"));
    assertThat(seen).anySatisfy(view -> assertThat(text(view)).contains("WAIT: pour 2 in"));
    assertThat(seen).anySatisfy(view -> assertThat(text(view)).contains(">>> stop"));
    assertThat(text(seen.get(seen.size() - 1)))
        .contains("FINISHED", "last: pour 1", "last: pour 2", "inside");
  }

  @Test
  void what_comes_next_keeps_its_place_while_the_run_goes_on() throws InterruptedException {
    for (int[] size : new int[][] {{80, 24}, {120, 40}}) {
      List<Integer> rows =
          twoPours(Feedback.FULL).stream()
              .map(view -> LiveText.of(view, size[0], size[1]))
              .map(lines -> indexOf(lines, "next:"))
              .filter(row -> row >= 0)
              .distinct()
              .toList();
      assertThat(rows).as(size[0] + " columns").hasSize(1);
    }
  }

  private static int indexOf(List<String> lines, String start) {
    for (int i = 0; i < lines.size(); i++) {
      if (lines.get(i).startsWith(start)) {
        return i;
      }
    }
    return -1;
  }

  @Test
  void a_long_wait_counts_whole_seconds_and_a_short_one_tenths() throws InterruptedException {
    List<String> counts =
        twoPours(Feedback.FULL).stream()
            .map(view -> LiveText.of(view, COLUMNS, 12))
            .filter(lines -> lines.stream().anyMatch(line -> line.startsWith("WAIT: pour")))
            .flatMap(List::stream)
            .filter(line -> line.matches("  [0-9.]+ s"))
            .toList();
    assertThat(counts).anyMatch(line -> line.matches("  [1-9][0-9] s"));
    assertThat(counts).anyMatch(line -> line.matches("  [0-9]\\.[0-9] s"));
    assertThat(counts).noneMatch(line -> line.matches("  [1-9][0-9]\\.[0-9] s"));
  }

  @Test
  void a_blind_run_shows_no_figures_of_the_pour() throws InterruptedException {
    List<RehearsalView> seen = twoPours(Feedback.BLIND);

    assertThat(seen)
        .filteredOn(view -> view.phase() == Phase.RUNNING)
        .isNotEmpty()
        .allSatisfy(
            view ->
                assertThat(text(view))
                    .contains("pour by feel")
                    .doesNotContain("to go", "last: pour", "scale (whole): 4"));
  }

  @Test
  void a_lost_scale_is_said_with_what_to_do() throws InterruptedException {
    List<Arrival> arrivals = new ArrayList<>(Played.weights(2, at -> 0));
    arrivals.add(new Arrival.Lost(SessionTime.ofMillis(4_000), "unplugged; plug it in again"));
    List<RehearsalView> seen = Moments.of(Feedback.FULL, arrivals);
    seen.remove(seen.size() - 1); // after the end nothing is lost any more
    String lines = lines(seen);

    assertThat(text(seen.get(seen.size() - 1))).contains("SCALE LOST", "plug it in again");
    assertThat(lines).containsOnlyOnce("scale lost: unplugged; plug it in again");
  }

  @Test
  void lines_tell_every_cue_once() throws InterruptedException {
    List<RehearsalView> seen = twoPours(Feedback.FULL);
    String lines = lines(seen);

    int cues = seen.get(seen.size() - 1).lanes().get(0).cues().size();
    assertThat(lines.lines().filter(line -> line.matches("[-0-9]:[-0-9]+  .*"))).hasSize(cues);
    assertThat(lines).contains("running", "finished", "stop");
  }

  private static String lines(List<RehearsalView> seen) {
    StringWriter lines = new StringWriter();
    PlainLines plain = new PlainLines(new PrintWriter(lines));
    seen.forEach(plain::see);
    return lines.toString();
  }

  @Test
  void figures_grow_with_the_terminal_and_know_only_numbers() {
    List<String> small = BigFigures.of("-12.5", "g", 1);
    assertThat(small).hasSize(5).last().asString().endsWith("g");
    List<String> large = BigFigures.of("-12.5", "g", 2);
    assertThat(large).hasSize(10).last().asString().endsWith("g");
    assertThat(large.get(0).chars().filter(dot -> dot == '█').count())
        .isEqualTo(2 * small.get(0).chars().filter(dot -> dot == '█').count());
    org.assertj.core.api.Assertions.assertThatThrownBy(() -> BigFigures.of("x", "g", 1))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
