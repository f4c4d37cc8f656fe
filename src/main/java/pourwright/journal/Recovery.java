package pourwright.journal;

import java.io.IOException;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.device.Transport.Arrival;
import pourwright.recording.Trace;
import pourwright.rig.Place;
import pourwright.session.RunStart;
import pourwright.session.Stand;
import pourwright.units.Mass;

/** Brings a rehearsal that was cut short to an end: what was kept of it is judged. */
final class Recovery {
  private static final Logger LOG = LoggerFactory.getLogger(Recovery.class);

  private final JournalFile journal;
  private final long rehearsal;
  private final Analyst analyst;

  Recovery(JournalFile journal, long rehearsal, Analyst analyst) {
    this.journal = journal;
    this.rehearsal = rehearsal;
    this.analyst = analyst;
  }

  /** One run of it, ready to be written. */
  private record Ready(
      long id, int lane, Trace trace, List<WireOf> wires, Optional<Analyst.Found> found) {}

  private record WireOf(Place place, WireTape tape) {}

  /** The runs that were recovered; none when another program was quicker, or nothing was kept. */
  List<RunEntry> run() throws IOException {
    List<Ready> ready = new ArrayList<>();
    for (long id : journal.database().read(this::runIds)) {
      ready.add(look(id));
    }
    boolean isEmpty =
        ready.stream().allMatch(run -> run.trace().size() == 0 && run.wires().isEmpty());
    boolean isMine =
        journal.write(
            database -> {
              if (database.number(
                      "SELECT count(*) FROM rehearsal WHERE id = ? AND ended IS NULL", rehearsal)
                  == 0) {
                return false;
              }
              if (isEmpty) {
                database.update("DELETE FROM rehearsal WHERE id = ?", rehearsal);
                return false;
              }
              for (Ready run : ready) {
                finish(database, run);
              }
              long length =
                  ready.stream().mapToLong(run -> lengthNanos(run.trace())).max().orElse(0);
              RunWriter.end(database, rehearsal, RunEntry.State.CUT_SHORT.word(), length);
              return true;
            });
    List<RunEntry> recovered = new ArrayList<>();
    if (isMine) {
      for (Ready run : ready) {
        journal.findRun(run.id()).ifPresent(kept -> recovered.add(kept.entry()));
      }
    }
    return recovered;
  }

  private List<Long> runIds(Database database) throws SQLException {
    return database.list(
        "SELECT id FROM run WHERE rehearsal = ? ORDER BY lane", row -> row.getLong(1), rehearsal);
  }

  private Ready look(long id) throws IOException {
    KeptRun kept = journal.findRun(id).orElseThrow(() -> new IOException(NoSuchRun.sentence(id)));
    int lane = kept.scales().isEmpty() ? 1 : kept.scales().get(0).stand().lane();
    Trace trace = journal.trace(id);
    List<WireOf> wires = new ArrayList<>();
    for (Place place : kept.entry().rig().places()) {
      WireTape tape = new WireTape();
      for (Arrival arrival : journal.wire(id, place)) {
        tape.add(arrival);
      }
      if (tape.size() > 0) {
        wires.add(new WireOf(place, tape));
      }
    }
    Optional<Analyst.Found> found = Optional.empty();
    if (trace.size() > 0) {
      try {
        found =
            Optional.of(
                analyst.analyse(
                    kept.entry().rig(),
                    kept.plan().map(RunStart.WrittenPlan::plan),
                    kept.scales(),
                    JournalFile.curves(trace, kept.entry().rig().places())));
      } catch (RuntimeException bug) {
        LOG.error("run {} was cut short and cannot be judged; its weights are kept", id, bug);
      }
    }
    return new Ready(id, lane, trace, wires, found);
  }

  private void finish(Database database, Ready run) throws SQLException {
    RunWriter.clearParts(database, run.id());
    for (WireOf wire : run.wires()) {
      RunWriter.wire(
          database, run.id(), new Stand(run.lane(), wire.place()), 0, wire.tape().write(0));
    }
    for (Place place : run.trace().places()) {
      WeightTape tape = WeightTape.of(run.trace(), place);
      RunWriter.weights(
          database, run.id(), new Stand(run.lane(), place), 0, tape.size(), tape.write(0));
    }
    if (run.found().isPresent()) {
      Analyst.Found found = run.found().get();
      JudgementRows.add(database, run.id(), found.analysis(), found.comparison());
    }
    long voided =
        database.number(
            "SELECT count(*) FROM told WHERE rehearsal = ? AND word = ?",
            rehearsal,
            RunWriter.VOID);
    database.update("UPDATE run SET is_void = ? WHERE id = ?", voided % 2, run.id());
    List<Guess> guesses =
        database.list(
            "SELECT pour, mass FROM told WHERE rehearsal = ? AND word = ? AND lane = ?"
                + " ORDER BY part",
            row -> new Guess(row.getInt(1), Mass.ofNanograms(row.getLong(2))),
            rehearsal,
            RunWriter.ESTIMATE,
            run.lane());
    for (Guess guess : guesses) {
      RunWriter.estimate(database, run.id(), guess.pour(), guess.poured());
    }
  }

  private record Guess(int pour, Mass poured) {}

  private static long lengthNanos(Trace trace) {
    return trace.size() == 0 ? 0 : trace.nanosAt(trace.size() - 1);
  }
}
