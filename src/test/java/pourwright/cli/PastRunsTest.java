package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import pourwright.detect.Findings;
import pourwright.forecast.PastRun;
import pourwright.journal.JournalFile;
import pourwright.journal.KeptRun;
import pourwright.journal.RunFilter;
import pourwright.units.SessionTime;

class PastRunsTest {
  private final KeptRun kept;
  private final List<Findings.Pour> pours;
  private final SessionTime lift;

  PastRunsTest(@TempDir Path folder) throws Exception {
    Ran demo =
        Ran.pourwright("demo", "--speed=0", "--no-page", "--lines", "--data", folder.toString());
    assertThat(demo.status()).as(demo.err()).isZero();
    try (JournalFile journal = JournalFile.open(folder, note -> {})) {
      kept = journal.listKept(RunFilter.all()).get(0);
    }
    Findings findings = kept.judgement().orElseThrow().findings();
    pours = findings.pours();
    lift = findings.lift().orElseThrow().time();
  }

  private PastRun seenDry(SessionTime... at) {
    KeptRun marked =
        new KeptRun(
            kept.entry(),
            kept.program(),
            kept.plan(),
            kept.scales(),
            kept.judgement(),
            kept.strengths(),
            kept.tastings(),
            kept.estimates(),
            List.of(at));
    return PastRuns.of(marked).orElseThrow();
  }

  private static SessionTime middle(SessionTime one, SessionTime other) {
    return SessionTime.ofNanos((one.nanos() + other.nanos()) / 2);
  }

  /** The demo weighs the whole rig, so that nothing tells when its beds have drained. */
  @Test
  void a_bed_that_nobody_saw_dry_has_no_moment() {
    assertThat(seenDry().drained()).hasSize(pours.size()).containsOnly(Optional.empty());
  }

  @Test
  void what_the_brewer_said_counts_for_the_pour_before_it() {
    SessionTime first = middle(pours.get(0).end(), pours.get(1).start());
    SessionTime again = middle(first, pours.get(1).start());
    SessionTime last = middle(pours.get(pours.size() - 1).end(), lift);
    PastRun run = seenDry(first, again, last);
    assertThat(run.drained().get(0)).contains(first);
    assertThat(run.drained().get(pours.size() - 1)).contains(last);
    assertThat(run.drained().subList(1, pours.size() - 1)).containsOnly(Optional.empty());
    assertThat(run.wasDry().get(0)).isTrue();
    assertThat(run.wasDry().get(pours.size() - 1)).isTrue();
  }

  @Test
  void what_was_said_while_water_flowed_or_after_the_lift_counts_for_nothing() {
    Findings.Pour second = pours.get(1);
    SessionTime later = middle(lift, middle(lift, SessionTime.ofNanos(3 * lift.nanos())));
    assertThat(seenDry(SessionTime.ZERO, middle(second.start(), second.end()), later).drained())
        .containsOnly(Optional.empty());
  }
}
