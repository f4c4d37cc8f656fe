package pourwright.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIOException;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import pourwright.coach.Feedback;
import pourwright.detect.Curve;
import pourwright.device.Transport.Arrival;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.Afterword;
import pourwright.session.Outcome;
import pourwright.session.Played;
import pourwright.session.RunStart;
import pourwright.session.Setup;
import pourwright.units.Mass;

@Timeout(60)
class JournalFileTest {
  private static final Instant NOON = Instant.parse("2026-03-01T12:00:00Z");

  private final Path folder;
  private final List<String> notes = new ArrayList<>();
  private JournalFile journal;

  JournalFileTest(@TempDir Path folder) throws Exception {
    this.folder = folder;
    this.journal = JournalFile.open(folder, notes::add);
  }

  @BeforeEach
  void a_new_journal_says_nothing() {
    assertThat(notes).isEmpty();
  }

  @AfterEach
  void close() {
    journal.close();
  }

  private long keptRun() throws Exception {
    Recording recording = journal.record();
    Rehearsals.twoPours(recording);
    return Optional.ofNullable(recording.runs().get(1)).orElseThrow();
  }

  @Test
  void a_run_is_read_back_as_it_was_found() throws Exception {
    Recording recording = journal.record();
    Outcome outcome = Rehearsals.twoPours(recording);
    long id = Optional.ofNullable(recording.runs().get(1)).orElseThrow();
    journal.close();
    journal = JournalFile.open(folder, notes::add);

    KeptRun run = journal.findRun(id).orElseThrow();
    Judgement judgement = run.judgement().orElseThrow();
    Outcome.LaneOutcome lane = outcome.lanes().get(0);
    assertThat(judgement.findings()).isEqualTo(lane.analysis().findings());
    assertThat(judgement.announced()).isEqualTo(lane.analysis().announced());
    assertThat(judgement.comparison()).isEqualTo(lane.comparison());
    assertThat(run.plan()).isEqualTo(outcome.start().lanes().get(0).plan());
    assertThat(run.scales()).isEqualTo(outcome.start().lanes().get(0).scales());
    RunEntry entry = run.entry();
    assertThat(entry.startedAt()).isEqualTo(outcome.start().at());
    assertThat(entry.title()).contains("Two pours");
    assertThat(entry.state()).isEqualTo(RunEntry.State.LIFTED);
    assertThat(entry.length()).isEqualTo(outcome.length());
    assertThat(entry.pours()).isEqualTo(2);
    assertThat(entry.planned()).isEqualTo(OptionalInt.of(2));
    assertThat(entry.inside()).isEqualTo(OptionalInt.of(2));
    assertThat(entry.deviationIndex().orElseThrow())
        .isEqualTo(lane.comparison().orElseThrow().deviationIndex());
    assertThat(journal.listRuns(RunFilter.all())).containsExactly(entry);
    assertThat(notes).isEmpty();
  }

  @Test
  void weights_and_bytes_are_read_back_to_the_last_digit() throws Exception {
    long id = keptRun();
    List<Arrival> played = Played.weights(60, Played::twoPours);
    List<Arrival> wire = journal.wire(id, Place.WHOLE);
    List<Curve> curves = journal.curves(id);

    // The run ends by itself before the recording does.
    assertThat(wire).hasSizeGreaterThan(400).isEqualTo(played.subList(0, wire.size()));
    assertThat(curves).singleElement().extracting(Curve::place).isEqualTo(Place.WHOLE);
    assertThat(journal.trace(id).size()).isBetween(400, wire.size());
    assertThat(curves.get(0).nanograms(100) / 1e9).isCloseTo(Played.twoPours(10), within(0.11));
    assertThat(journal.wire(id, Place.SERVER)).isEmpty();
  }

  @Test
  void a_run_looked_through_anew_gives_equal_results_and_keeps_the_old_ones() throws Exception {
    long id = keptRun();
    Judgement first = journal.findRun(id).orElseThrow().judgement().orElseThrow();
    Judgement again = journal.judgeAnew(id, Rehearsals::analyse).orElseThrow();

    assertThat(again.findings()).isEqualTo(first.findings());
    assertThat(again.comparison()).isEqualTo(first.comparison());
    assertThat(journal.listJudgements(id)).containsExactly(first, again);
    assertThat(journal.findRun(id).orElseThrow().judgement()).contains(again);
  }

  @Test
  void what_the_brewer_adds_is_kept_and_can_be_taken_back() throws Exception {
    long id = keptRun();
    long first =
        journal.addStrength(
            id, new StrengthReading(0, NOON, 1.36, OptionalDouble.of(0.02), "own refractometer"));
    journal.addStrength(id, new StrengthReading(0, NOON, 1.40, OptionalDouble.empty(), ""));
    long tasting =
        journal.addTasting(
            id,
            new Tasting(
                0, NOON, "Ada", Map.of(TasteItem.ACIDITY, 7.5, TasteItem.BODY, 6.0), "bright"));
    journal.note(id, "<b>finer</b> next time");
    journal.estimate(id, 1, Mass.ofMilligrams(41_000));
    journal.estimate(id, 1, Mass.ofMilligrams(42_000));
    journal.setVoid(id, true);

    KeptRun run = journal.findRun(id).orElseThrow();
    assertThat(run.strengths()).hasSize(2);
    assertThat(run.strengths().get(0))
        .isEqualTo(
            new StrengthReading(first, NOON, 1.36, OptionalDouble.of(0.02), "own refractometer"));
    assertThat(run.entry().strengthPercent().orElseThrow()).isCloseTo(1.38, within(1e-12));
    assertThat(run.tastings()).hasSize(1);
    assertThat(run.tastings().get(0).scores())
        .isEqualTo(Map.of(TasteItem.ACIDITY, 7.5, TasteItem.BODY, 6.0));
    assertThat(run.entry().isTasted()).isTrue();
    assertThat(run.entry().note()).isEqualTo("<b>finer</b> next time");
    assertThat(run.entry().isVoid()).isTrue();
    assertThat(run.estimates()).isEqualTo(Map.of(1, Mass.ofMilligrams(42_000)));

    journal.removeStrength(first);
    journal.removeTasting(tasting);
    journal.setVoid(id, false);
    KeptRun after = journal.findRun(id).orElseThrow();
    assertThat(after.strengths()).hasSize(1);
    assertThat(after.tastings()).isEmpty();
    assertThat(after.entry().isTasted()).isFalse();
    assertThat(after.entry().isVoid()).isFalse();
  }

  @Test
  void a_later_afterword_replaces_the_strength_of_an_earlier_one_only() throws Exception {
    Recording recording = journal.record();
    Rehearsals.twoPours(recording);
    long id = Optional.ofNullable(recording.runs().get(1)).orElseThrow();
    journal.addStrength(id, new StrengthReading(0, NOON, 1.30, OptionalDouble.empty(), "other"));
    recording.keep(new Afterword(1, OptionalDouble.of(1.4), Optional.empty(), Map.of()));
    recording.keep(
        new Afterword(
            1, OptionalDouble.of(1.5), Optional.of("round"), Map.of(2, Mass.ofMilligrams(61_000))));

    KeptRun run = journal.findRun(id).orElseThrow();
    assertThat(run.strengths()).extracting(StrengthReading::percent).containsExactly(1.30, 1.5);
    assertThat(run.entry().note()).isEqualTo("round");
    assertThat(run.estimates()).isEqualTo(Map.of(2, Mass.ofMilligrams(61_000)));
  }

  @Test
  void words_for_a_run_that_could_not_be_kept_are_not_swallowed() {
    assertThatIOException()
        .isThrownBy(
            () ->
                journal
                    .record()
                    .keep(new Afterword(1, OptionalDouble.of(1.4), Optional.empty(), Map.of())))
        .withMessageContaining("Write them down");
  }

  @Test
  void deleting_is_undone_without_a_trace() throws Exception {
    long id = keptRun();
    KeptRun before = journal.findRun(id).orElseThrow();
    journal.delete(id);
    assertThat(journal.listRuns(RunFilter.all())).isEmpty();
    assertThat(journal.listRuns(RunFilter.all().onlyDeleted()))
        .extracting(RunEntry::id)
        .containsExactly(id);

    journal.restore(id);
    assertThat(journal.findRun(id)).contains(before);
  }

  @Test
  void a_run_that_there_is_not_is_named() {
    assertThatIOException()
        .isThrownBy(() -> journal.delete(7))
        .withMessage(
            "there is no run 7 in the journal; `pourwright runs list` shows those there are");
    assertThatIOException()
        .isThrownBy(() -> journal.judgeAnew(7, Rehearsals::analyse))
        .withMessageStartingWith("there is no run 7");
  }

  @Test
  void runs_are_found_by_what_is_known_of_them() throws Exception {
    long plain = keptRun();
    long noted = keptRun();
    journal.note(noted, "100% finer_grind");
    Recording blind = journal.record();
    Rehearsals.twoPours(blind, NOON.plusSeconds(60), Feedback.BLIND, true);
    long simulated = Optional.ofNullable(blind.runs().get(1)).orElseThrow();
    journal.setVoid(plain, true);

    RunFilter all = RunFilter.all();
    assertThat(journal.listRuns(all))
        .extracting(RunEntry::id)
        .containsExactly(simulated, noted, plain);
    assertThat(journal.listKept(all))
        .extracting(run -> run.entry().id())
        .containsExactly(plain, noted, simulated);
    assertThat(ids(all.matching("FINER_g"))).containsExactly(noted);
    assertThat(ids(all.matching("0%"))).containsExactly(noted);
    assertThat(ids(all.matching("r%r"))).isEmpty();
    assertThat(ids(all.matching("two pours"))).hasSize(3);
    assertThat(ids(all.titled("Two pours").brewedBy("brewer 1").limit(2)))
        .containsExactly(simulated, noted);
    assertThat(ids(all.titled("two"))).isEmpty();
    assertThat(ids(all.fed(Feedback.BLIND))).containsExactly(simulated);
    assertThat(ids(all.from(NOON))).containsExactly(simulated);
    assertThat(ids(all.until(NOON))).containsExactly(noted, plain);
    assertThat(ids(all.withoutVoid().withoutSimulated())).containsExactly(noted);
  }

  private List<Long> ids(RunFilter filter) throws Exception {
    return journal.listRuns(filter).stream().map(RunEntry::id).toList();
  }

  @Test
  void runs_under_fading_feedback_are_counted_by_brewer() throws Exception {
    for (int i = 0; i < 3; i++) {
      Rehearsals.twoPours(journal.record(), NOON, Feedback.FADED, false);
    }
    Rehearsals.twoPours(journal.record(), NOON, Feedback.FADED, true);
    Rehearsals.twoPours(journal.record(), NOON, Feedback.FULL, false);
    journal.delete(1);
    journal.setVoid(2, true);

    assertThat(journal.countFaded("brewer 1", false)).isEqualTo(1);
    assertThat(journal.countFaded("brewer 1", true)).isEqualTo(1);
    assertThat(journal.countFaded("brewer 2", false)).isZero();
  }

  @Test
  void several_brewers_of_one_rehearsal_are_runs_of_their_own() throws Exception {
    Recording recording = journal.record();
    Rehearsals.run(
        Played.setup(
            List.of(Rig.WHOLE, Rig.SPLIT),
            List.of(
                Played.scale(1, Place.WHOLE, Played.weights(5, at -> 0)),
                Played.scale(2, Place.WHOLE, Played.weights(5, at -> 1)),
                Played.scale(2, Place.SERVER, Played.weights(5, at -> 2)))),
        recording);
    long second = Optional.ofNullable(recording.runs().get(2)).orElseThrow();

    assertThat(recording.runs()).containsOnlyKeys(1, 2);
    assertThat(journal.curves(second))
        .extracting(Curve::place)
        .containsExactly(Place.WHOLE, Place.SERVER);
    assertThat(journal.findRun(second).orElseThrow().scales())
        .extracting(scale -> scale.stand().place())
        .containsExactly(Place.WHOLE, Place.SERVER);
    assertThat(journal.findKey(second)).isEqualTo(journal.findKey(second - 1));
  }

  @Test
  void a_lag_that_was_known_is_used_when_the_run_is_looked_through_anew() throws Exception {
    Setup usual = Rehearsals.twoPours();
    RunStart.Lane lane = usual.start().lanes().get(0);
    RunStart.HeardScale scale = lane.scales().get(0);
    RunStart start =
        new RunStart(
            NOON,
            "test",
            false,
            Feedback.FULL,
            0,
            List.of(
                new RunStart.Lane(
                    1,
                    lane.brewer(),
                    lane.rig(),
                    lane.plan(),
                    List.of(
                        new RunStart.HeardScale(
                            scale.stand(),
                            scale.address(),
                            scale.profile(),
                            OptionalDouble.of(0.4),
                            OptionalDouble.of(0.03))))));
    Recording recording = journal.record();
    Rehearsals.run(
        new Setup(start, usual.settings(), usual.scales(), usual.idleLimit()), recording);
    long id = Optional.ofNullable(recording.runs().get(1)).orElseThrow();
    List<RunStart.HeardScale> used = new ArrayList<>();
    journal.judgeAnew(
        id,
        (rig, plan, scales, curves) -> {
          used.addAll(scales);
          return Rehearsals.analyse(rig, plan, scales, curves);
        });
    assertThat(used)
        .singleElement()
        .extracting(RunStart.HeardScale::lagSeconds, RunStart.HeardScale::noiseGrams)
        .containsExactly(OptionalDouble.of(0.4), OptionalDouble.of(0.03));
  }
}
