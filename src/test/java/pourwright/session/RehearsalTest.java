package pourwright.session;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import pourwright.coach.Cue;
import pourwright.detect.Analysis;
import pourwright.detect.Curve;
import pourwright.detect.DetectorSettings;
import pourwright.detect.PourEvent;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.reading.Reading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.SessionTime;

@Timeout(30)
class RehearsalTest {

  /** Writes down the order of what it is told. */
  private static class NotedJournal implements Journal {
    final List<String> told = new CopyOnWriteArrayList<>();
    final List<PourEvent> events = new CopyOnWriteArrayList<>();
    final Curve curve = new Curve(Place.WHOLE);

    @Override
    public void begin(RunStart start) {
      told.add("begin");
    }

    @Override
    public void chunk(Stand from, Chunk chunk) {
      told.add("chunk " + chunk.at());
    }

    @Override
    public void lost(Stand from, SessionTime at, String why) {
      told.add("lost " + at);
    }

    @Override
    public void reading(Stand from, Reading reading) {
      told.add("reading " + reading.at());
      if (from.place() == Place.WHOLE) {
        curve.add(reading.at().nanos(), reading.mass().nanograms());
      }
    }

    @Override
    public void event(int lane, PourEvent event) {
      events.add(event);
    }

    @Override
    public void end(Outcome outcome) {
      told.add("end");
    }

    @Override
    public void persist() throws IOException {}
  }

  private static Setup oneWhole(List<Arrival> arrivals) {
    return Played.setup(List.of(Rig.WHOLE), List.of(Played.scale(1, Place.WHOLE, arrivals)));
  }

  @Test
  void a_run_ends_by_itself_after_the_lift_and_is_judged() throws InterruptedException {
    Outcome outcome =
        new Rehearsal(oneWhole(Played.weights(60, Played::twoPours)), List.of(), List.of()).run();

    assertThat(outcome.why()).isEqualTo(Outcome.Ending.LIFTED);
    assertThat(outcome.length().toMillis()).isBetween(42_000L, 46_000L);
    Outcome.LaneOutcome lane = outcome.lanes().get(0);
    assertThat(lane.analysis().findings().pours()).hasSize(2);
    assertThat(lane.analysis().findings().pours().get(0).poured().grams())
        .isCloseTo(40, within(0.5));
    assertThat(lane.comparison().orElseThrow().pours())
        .allSatisfy(pour -> assertThat(pour.verdict().word()).isEqualTo("inside"));
  }

  /** The paper is rinsed, the rig taken off and emptied, and then the plan is poured. */
  private static double rinsed(double at) {
    double rinse = Math.max(0, Math.min(60, (at - 3) * 8));
    if (at < 20) {
      return rinse;
    }
    return at < 30 ? -420 : 4 + Played.twoPours(at - 37);
  }

  @Test
  void rinsing_the_paper_is_not_the_run() throws InterruptedException {
    Outcome outcome =
        new Rehearsal(oneWhole(Played.weights(95, RehearsalTest::rinsed)), List.of(), List.of())
            .run();

    assertThat(outcome.why()).isEqualTo(Outcome.Ending.LIFTED);
    Outcome.LaneOutcome lane = outcome.lanes().get(0);
    assertThat(lane.analysis().findings().pours()).hasSize(2);
    assertThat(lane.comparison().orElseThrow().pours())
        .allSatisfy(pour -> assertThat(pour.verdict().word()).isEqualTo("inside"));
  }

  @Test
  void what_was_announced_live_is_what_an_analysis_of_the_readings_announces()
      throws InterruptedException {
    NotedJournal journal = new NotedJournal();
    new Rehearsal(oneWhole(Played.weights(60, Played::twoPours)), List.of(journal), List.of())
        .run();

    Analysis again = Analysis.of(Rig.WHOLE, DetectorSettings.standard(), List.of(journal.curve));
    assertThat(journal.events).isNotEmpty().isEqualTo(again.announced());
  }

  @Test
  void raw_bytes_reach_the_journal_before_what_they_mean() throws InterruptedException {
    NotedJournal journal = new NotedJournal();
    new Rehearsal(oneWhole(Played.weights(3, at -> 0)), List.of(journal), List.of()).run();

    assertThat(journal.told).startsWith("begin").endsWith("end");
    for (int i = 0; i <= 30; i++) {
      String at = SessionTime.ofMillis(i * 100L).toString();
      assertThat(journal.told.indexOf("chunk " + at))
          .isNotNegative()
          .isLessThan(journal.told.indexOf("reading " + at));
    }
  }

  @Test
  void a_journal_that_fails_is_reported_and_the_run_goes_on() throws InterruptedException {
    NotedJournal good = new NotedJournal();
    Journal full =
        new NotedJournal() {
          @Override
          public void persist() throws IOException {
            throw new IOException("the disk is full");
          }

          @Override
          public void reading(Stand from, Reading reading) {
            throw new IllegalStateException("a bug");
          }
        };
    Rehearsal rehearsal =
        new Rehearsal(
            oneWhole(Played.weights(60, Played::twoPours)), List.of(full, good), List.of());

    Outcome outcome = rehearsal.run();

    assertThat(outcome.lanes().get(0).analysis().findings().pours()).hasSize(2);
    assertThat(rehearsal.troubles()).containsExactly("the disk is full");
    assertThat(good.told).endsWith("end");
  }

  @Test
  void a_stuck_audience_holds_up_nobody() throws InterruptedException {
    CountDownLatch release = new CountDownLatch(1);
    List<RehearsalView> seen = new CopyOnWriteArrayList<>();
    Audience stuck =
        view -> {
          try {
            release.await();
          } catch (InterruptedException told) {
            Thread.currentThread().interrupt();
          }
        };
    Audience failing =
        view -> {
          throw new IllegalStateException("a bug");
        };

    Outcome outcome =
        new Rehearsal(
                oneWhole(Played.weights(60, Played::twoPours)),
                List.of(),
                List.of(stuck, failing, seen::add))
            .run();
    release.countDown();

    assertThat(outcome.why()).isEqualTo(Outcome.Ending.LIFTED);
    RehearsalView last = seen.get(seen.size() - 1);
    assertThat(last.phase()).isEqualTo(Phase.FINISHED);
    assertThat(last.lanes().get(0).pours()).hasSize(2);
  }

  @Test
  void the_coach_says_when_to_pour_and_when_to_stop() throws InterruptedException {
    List<RehearsalView> seen = new CopyOnWriteArrayList<>();
    new Rehearsal(oneWhole(Played.weights(60, Played::twoPours)), List.of(), List.of(seen::add))
        .run();

    assertThat(seen.get(seen.size() - 1).lanes().get(0).cues())
        .extracting(Cue::kind)
        .containsSubsequence(
            Cue.Kind.EASE_OFF,
            Cue.Kind.STOP,
            Cue.Kind.POURED,
            Cue.Kind.GET_READY,
            Cue.Kind.START,
            Cue.Kind.STOP,
            Cue.Kind.DONE);
  }

  @Test
  void a_loss_of_the_link_is_kept_and_shown_and_forgotten_when_it_is_over()
      throws InterruptedException {
    List<Arrival> arrivals = new ArrayList<>(Played.weights(2, at -> 0));
    arrivals.add(new Arrival.Lost(SessionTime.ofMillis(4_000), "unplugged; plug it in again"));
    NotedJournal journal = new NotedJournal();
    List<RehearsalView> lost = new CopyOnWriteArrayList<>();
    new Rehearsal(oneWhole(arrivals), List.of(journal), List.of(lost::add)).run();

    assertThat(journal.told).contains("lost 4 s");
    LinkView link = lost.get(lost.size() - 1).lanes().get(0).links().get(0);
    assertThat(link.losses()).isEqualTo(1);
    assertThat(link.loss().orElseThrow().why()).contains("unplugged");

    arrivals.add(new Arrival.Restored(SessionTime.ofMillis(5_000)));
    List<RehearsalView> back = new CopyOnWriteArrayList<>();
    new Rehearsal(oneWhole(arrivals), List.of(), List.of(back::add)).run();
    assertThat(back.get(back.size() - 1).lanes().get(0).links().get(0).loss()).isEmpty();
  }

  @Test
  void breaks_of_the_line_are_kept_in_the_order_of_its_bytes() throws InterruptedException {
    List<Arrival> arrivals = new ArrayList<>();
    for (Arrival arrival : Played.weights(60, at -> 0)) {
      arrivals.add(arrival);
      arrivals.add(new Arrival.Lost(arrival.at(), "unplugged"));
      arrivals.add(new Arrival.Restored(arrival.at()));
    }
    NotedJournal journal = new NotedJournal();
    new Rehearsal(oneWhole(arrivals), List.of(journal), List.of()).run();

    List<String> line =
        journal.told.stream()
            .filter(told -> told.startsWith("chunk") || told.startsWith("lost"))
            .toList();
    for (int i = 0; i < line.size(); i += 2) {
      assertThat(line.get(i + 1)).isEqualTo(line.get(i).replace("chunk", "lost"));
    }
  }

  @Test
  void two_lanes_have_their_own_pours() throws InterruptedException {
    Outcome outcome =
        new Rehearsal(
                Played.setup(
                    List.of(Rig.WHOLE, Rig.WHOLE),
                    List.of(
                        Played.scale(1, Place.WHOLE, Played.weights(60, Played::twoPours)),
                        Played.scale(
                            2, Place.WHOLE, Played.weights(70, at -> Played.twoPours(at - 8))))),
                List.of(),
                List.of())
            .run();

    assertThat(outcome.why()).isEqualTo(Outcome.Ending.LIFTED);
    assertThat(outcome.lanes()).hasSize(2);
    double first = outcome.lanes().get(0).analysis().findings().pours().get(0).start().seconds();
    double second = outcome.lanes().get(1).analysis().findings().pours().get(0).start().seconds();
    assertThat(second - first).isCloseTo(8, within(0.2));
  }

  @Test
  void an_idle_run_ends_and_a_source_without_water_just_ends() throws InterruptedException {
    List<Arrival> never = Played.weights(700, at -> Math.min(40, Math.max(0, (at - 3) * 5)));
    assertThat(new Rehearsal(oneWhole(never), List.of(), List.of()).run().why())
        .isEqualTo(Outcome.Ending.IDLE);
    assertThat(
            new Rehearsal(oneWhole(Played.weights(5, at -> 0)), List.of(), List.of()).run().why())
        .isEqualTo(Outcome.Ending.SOURCE_ENDED);
  }

  @Test
  void the_brewer_can_stop_and_void_a_run() throws InterruptedException {
    Rehearsal rehearsal =
        new Rehearsal(oneWhole(Played.weights(60, Played::twoPours)), List.of(), List.of());
    rehearsal.tell(new Command.VoidRun());
    rehearsal.tell(new Command.Stop());

    Outcome outcome = rehearsal.run();

    assertThat(outcome.why()).isEqualTo(Outcome.Ending.STOPPED);
    assertThat(outcome.isVoid()).isTrue();
  }

  @Test
  void junk_is_counted_and_changes_nothing() throws InterruptedException {
    List<Arrival> arrivals = new ArrayList<>();
    for (Arrival arrival : Played.weights(60, Played::twoPours)) {
      arrivals.add(new Arrival.Received(new Chunk(arrival.at(), Bytes.ofAscii("??\n"))));
      arrivals.add(arrival);
    }
    List<RehearsalView> seen = new CopyOnWriteArrayList<>();
    Outcome outcome = new Rehearsal(oneWhole(arrivals), List.of(), List.of(seen::add)).run();

    assertThat(outcome.lanes().get(0).analysis().findings().pours()).hasSize(2);
    assertThat(seen.get(seen.size() - 1).lanes().get(0).links().get(0).junk()).isGreaterThan(400);
  }
}
