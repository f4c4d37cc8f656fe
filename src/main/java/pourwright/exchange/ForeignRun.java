package pourwright.exchange;

import java.io.IOException;
import java.io.InputStream;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.UUID;
import pourwright.coach.Feedback;
import pourwright.journal.Analyst;
import pourwright.journal.JournalFile;
import pourwright.journal.Judgement;
import pourwright.journal.KeptRun;
import pourwright.journal.RunEntry;
import pourwright.journal.WholeRun;
import pourwright.recording.Trace;
import pourwright.rig.Rig;
import pourwright.session.RunStart;
import pourwright.session.Stand;

/** Makes a kept run of weights that another program recorded. */
public final class ForeignRun {
  private ForeignRun() {}

  /**
   * A run that was added.
   *
   * @param run its id
   * @param passedOver rows without two numbers
   */
  public record Added(long run, int weights, long passedOver) {}

  /**
   * Reads, judges and keeps it.
   *
   * @param name of the file, for messages
   * @param at when it was recorded, as far as is known
   * @throws RefusedImport when the file does not hold what the mapping says
   */
  public static Added add(
      JournalFile journal,
      InputStream csv,
      String name,
      Instant at,
      ForeignCsv.Mapping mapping,
      Rig rig,
      Optional<RunStart.WrittenPlan> plan,
      String brewer,
      Analyst analyst)
      throws IOException {
    Trace.Builder rows = new Trace.Builder();
    long passedOver = new ForeignCsv(name, mapping).read(csv, rows);
    Trace trace = rows.build();
    Judgement judgement = RunArchive.judge(analyst, rig, plan, List.of(), trace);
    RunEntry entry =
        new RunEntry(
            0,
            at,
            brewer,
            plan.map(written -> written.plan().title()),
            rig,
            Feedback.FULL,
            false,
            false,
            false,
            RunEntry.State.SOURCE_ENDED,
            Duration.ofNanos(trace.nanosAt(trace.size() - 1)),
            0,
            OptionalInt.empty(),
            OptionalInt.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            false,
            "");
    KeptRun run =
        new KeptRun(
            entry,
            "imported",
            plan,
            List.of(new RunStart.HeardScale(new Stand(1, mapping.place()), "file:" + name, "csv")),
            Optional.empty(),
            List.of(),
            List.of(),
            Map.of(),
            List.of());
    long id =
        journal
            .add(
                new WholeRun(
                    UUID.randomUUID().toString(), 1, 0, run, List.of(judgement), Map.of(), trace))
            .orElseThrow(() -> new IOException(name + " is in the journal already"));
    return new Added(id, trace.size(), passedOver);
  }
}
