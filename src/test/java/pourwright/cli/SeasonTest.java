package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import pourwright.coach.Feedback;
import pourwright.journal.JournalFile;
import pourwright.journal.KeptRun;
import pourwright.journal.RunEntry;
import pourwright.journal.RunFilter;

@Timeout(120)
class SeasonTest {
  private static final Instant END = Instant.parse("2026-03-14T12:00:00Z");

  private static double meanIndex(List<RunEntry> runs) {
    return runs.stream()
        .mapToDouble(run -> run.deviationIndex().orElseThrow())
        .average()
        .orElseThrow();
  }

  @Test
  void a_season_is_a_marked_story_of_practice_and_fills_a_journal_once(@TempDir Path folder)
      throws Exception {
    try (JournalFile journal = JournalFile.open(folder, note -> {})) {
      Season season =
          new Season(journal, DemoCommand.plan(DemoCommand.DRAFT), DemoCommand.demoPlan(), END, 7);
      List<Integer> progress = new ArrayList<>();
      season.fill(progress::add);
      season.fill(progress::add);

      List<RunEntry> runs = new ArrayList<>(journal.listRuns(RunFilter.all()));
      assertThat(progress).hasSize(2 * Season.RUNS).endsWith(Season.RUNS);
      assertThat(runs).hasSize(Season.RUNS).allMatch(RunEntry::isSimulated);
      assertThat(runs)
          .extracting(RunEntry::startedAt)
          .isSortedAccordingTo((a, b) -> b.compareTo(a));
      assertThat(runs.get(0).startedAt()).isBefore(END.plusSeconds(86_400));
      assertThat(runs.stream().map(RunEntry::feedback).collect(Collectors.toSet()))
          .isEqualTo(Set.of(Feedback.values()));
      assertThat(runs.stream().filter(RunEntry::isVoid)).hasSize(1);
      assertThat(runs.stream().filter(RunEntry::isTasted)).hasSizeGreaterThan(20);
      assertThat(runs.stream().map(run -> run.title().orElseThrow()).distinct()).hasSize(2);
      assertThat(meanIndex(runs.subList(0, 12))).isLessThan(0.8 * meanIndex(runs.subList(28, 40)));
      for (KeptRun run : journal.listKept(RunFilter.all().fed(Feedback.BLIND))) {
        assertThat(run.estimates()).hasSize(run.entry().pours());
      }
      assertThat(journal.check()).isEmpty();
    }
  }
}
