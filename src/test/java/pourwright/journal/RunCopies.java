package pourwright.journal;

import java.time.Instant;

/** The same run once more, as if it had been made another day. */
final class RunCopies {
  private RunCopies() {}

  static WholeRun of(WholeRun run, String key, Instant at) {
    RunEntry entry = run.run().entry();
    RunEntry moved =
        new RunEntry(
            0,
            at,
            entry.brewer(),
            entry.title(),
            entry.rig(),
            entry.feedback(),
            entry.isSimulated(),
            entry.isVoid(),
            false,
            entry.state(),
            entry.length(),
            entry.pours(),
            entry.planned(),
            entry.inside(),
            entry.deviationIndex(),
            entry.strengthPercent(),
            entry.isTasted(),
            entry.note());
    KeptRun kept = run.run();
    return new WholeRun(
        key,
        run.lane(),
        run.fadedRun(),
        new KeptRun(
            moved,
            kept.program(),
            kept.plan(),
            kept.scales(),
            kept.judgement(),
            kept.strengths(),
            kept.tastings(),
            kept.estimates(),
            kept.seenDry()),
        run.judgements(),
        run.wires(),
        run.trace());
  }
}
