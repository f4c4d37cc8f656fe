package pourwright.session;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import pourwright.detect.DetectorSettings;
import pourwright.detect.Findings;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.roving.Turn;
import pourwright.units.Mass;
import pourwright.web.Follower;
import pourwright.web.HeldTransport;

/** A rehearsal in which one scale serves two brewers. */
@Timeout(60)
class MovedScaleTest {
  private static final Mass FIRST = Mass.ofGrams(40);
  private static final Mass SECOND = Mass.ofGrams(60);

  private static final List<Turn> TURNS =
      List.of(
          new Turn(1, 1, FIRST, FIRST),
          new Turn(2, 1, FIRST, FIRST),
          new Turn(1, 1, SECOND, SECOND),
          new Turn(2, 1, SECOND, SECOND));

  /** Empty 300 g below each tared rig; the second rig is 9 g heavier. */
  private static double shown(double at) {
    if (at < 13) {
      return poured(at, 3, 40);
    }
    if (at < 16 || (at >= 30 && at < 33) || (at >= 50 && at < 53)) {
      return -300;
    }
    if (at < 30) {
      return 9 + poured(at, 19, 40);
    }
    if (at < 50) {
      return 40 + poured(at, 36, 60);
    }
    return 49 + poured(at, 56, 60) - (at > 75 ? 180 : 0);
  }

  private static double poured(double at, double from, double grams) {
    return Math.max(0, Math.min(grams, (at - from) * 6));
  }

  private static Setup setup() {
    Setup two =
        Played.setup(
            List.of(Rig.WHOLE, Rig.WHOLE),
            List.of(Played.scale(1, Place.WHOLE, Played.weights(85, MovedScaleTest::shown))));
    return new Setup(two.start(), two.settings(), two.scales(), two.idleLimit(), TURNS);
  }

  private static final class Watcher implements Audience {
    final List<RehearsalView> views = new ArrayList<>();

    @Override
    public synchronized void see(RehearsalView view) {
      views.add(view);
    }
  }

  @Test
  void each_brewer_gets_their_own_pours_and_the_last_lift_ends_the_run() throws Exception {
    Watcher watcher = new Watcher();
    Outcome outcome = new Rehearsal(setup(), List.of(), List.of(watcher)).run();
    assertThat(outcome.lanes()).hasSize(2);
    for (Outcome.LaneOutcome lane : outcome.lanes()) {
      List<Findings.Pour> pours = lane.analysis().findings().pours();
      assertThat(pours).hasSize(2);
      assertThat(pours.get(0).poured().grams()).isCloseTo(40, within(1.0));
      assertThat(pours.get(1).poured().grams()).isCloseTo(60, within(1.0));
    }
    assertThat(outcome.lanes().get(0).analysis().findings().lift()).isEmpty();
    assertThat(outcome.lanes().get(1).analysis().findings().lift()).isPresent();
    assertThat(outcome.why()).isEqualTo(Outcome.Ending.LIFTED);
    RehearsalView last = watcher.views.get(watcher.views.size() - 1);
    assertThat(last.lanes().get(0).links()).allMatch(LinkView::away);
    assertThat(last.lanes().get(1).links()).noneMatch(LinkView::away);
    assertThat(last.lanes()).allMatch(lane -> lane.pours().size() == 2);
    assertThat(last.lanes())
        .allMatch(lane -> lane.cues().stream().noneMatch(cue -> cue.say().contains("scale lost")));
  }

  @Test
  void the_brewer_says_under_whom_it_stands_and_everybody_sees_it() throws Exception {
    Setup begun = setup();
    HeldTransport held = new HeldTransport(Played.weights(85, MovedScaleTest::shown));
    PlacedScale scale = begun.scales().get(0);
    Setup setup =
        new Setup(
            begun.start(),
            begun.settings(),
            List.of(
                new PlacedScale(
                    scale.stand(),
                    scale.address(),
                    scale.profile(),
                    true,
                    held,
                    scale.decoder(),
                    scale.commands())),
            begun.idleLimit(),
            // the other brewer comes first
            List.of(new Turn(2, 1, FIRST, FIRST), new Turn(1, 1, FIRST, FIRST)));
    Follower follower = new Follower();
    Rehearsal rehearsal = new Rehearsal(setup, List.of(), List.of(follower));
    Thread running = follower.follow(rehearsal);
    held.playTo(1);
    follower.await(0.9);
    stands(follower, 2);
    rehearsal.tell(new Command.ScaleIsUnder(1));
    rehearsal.tell(new Command.ScaleIsUnder(7)); // there is no such brewer
    held.playTo(2);
    follower.await(1.9);
    stands(follower, 1);
    running.interrupt();
  }

  private static void stands(Follower follower, int lane) throws InterruptedException {
    RehearsalView view = follower.last();
    assertThat(view.movedScale()).contains(new RehearsalView.Standing(lane, false));
    for (LaneView each : view.lanes()) {
      assertThat(each.links()).allMatch(link -> link.away() == (each.number() != lane));
    }
  }

  @Test
  void a_moved_scale_is_alone_and_under_everything() {
    Setup one = setup();
    assertThatThrownBy(
            () ->
                new Setup(
                    Played.setup(List.of(Rig.SERVER), List.of()).start(),
                    List.of(DetectorSettings.standard()),
                    one.scales(),
                    one.idleLimit(),
                    TURNS))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(
            () -> new Setup(one.start(), one.settings(), List.of(), one.idleLimit(), TURNS))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
