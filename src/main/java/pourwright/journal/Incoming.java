package pourwright.journal;

import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import pourwright.device.Transport.Arrival;
import pourwright.recording.Trace;
import pourwright.rig.Place;
import pourwright.session.RunStart;
import pourwright.session.Stand;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Puts a run from elsewhere into the tables. */
final class Incoming {
  private Incoming() {}

  /**
   * The id it has here; null when it was here already. A copy that holds more of a run than is
   * here, such as one whose recording was not cut short, takes the place of what is here.
   */
  static @Nullable Long add(Database database, WholeRun whole) throws SQLException {
    long rehearsal =
        database.number("SELECT ifnull(max(id), 0) FROM rehearsal WHERE key = ?", whole.key());
    long known =
        database.number(
            "SELECT ifnull(max(id), 0) FROM run WHERE rehearsal = ? AND lane = ?",
            rehearsal,
            whole.lane());
    if (known != 0) {
      return complete(database, rehearsal, known, whole) ? known : null;
    }
    if (rehearsal == 0) {
      rehearsal = rehearsal(database, whole);
    }
    KeptRun kept = whole.run();
    long run =
        RunWriter.add(
            database,
            rehearsal,
            new RunStart.Lane(
                whole.lane(),
                kept.entry().brewer(),
                kept.entry().rig(),
                kept.plan(),
                kept.scales()));
    database.update(
        "UPDATE run SET is_void = ?, note = ? WHERE id = ?",
        kept.entry().isVoid() ? 1 : 0,
        kept.entry().note(),
        run);
    recorded(database, run, whole);
    for (StrengthReading strength : kept.strengths()) {
      RunWriter.strength(database, run, strength);
    }
    for (Tasting tasting : kept.tastings()) {
      RunWriter.tasting(database, run, tasting);
    }
    for (Map.Entry<Integer, Mass> estimate : kept.estimates().entrySet()) {
      RunWriter.estimate(database, run, estimate.getKey(), estimate.getValue());
    }
    for (SessionTime at : kept.seenDry()) {
      RunWriter.seenDry(database, rehearsal, whole.lane(), at);
    }
    return run;
  }

  private static long rehearsal(Database database, WholeRun whole) throws SQLException {
    RunEntry entry = whole.run().entry();
    return database.insert(
        "INSERT INTO rehearsal (key, started_at, program, is_simulated, feedback, faded_run, ended,"
            + " length) VALUES (?,?,?,?,?,?,?,?)",
        whole.key(),
        entry.startedAt().toEpochMilli(),
        whole.run().program(),
        entry.isSimulated() ? 1 : 0,
        entry.feedback().word(),
        whole.fadedRun(),
        ended(entry),
        entry.length().toNanos());
  }

  private static String ended(RunEntry entry) {
    return (entry.state() == RunEntry.State.RECORDING ? RunEntry.State.CUT_SHORT : entry.state())
        .word();
  }

  /** Puts more of a run where there was less; what the brewer has added to it stays. */
  private static boolean complete(Database database, long rehearsal, long run, WholeRun whole)
      throws SQLException {
    long here = database.number("SELECT sum(readings) FROM trace WHERE run = ?", run);
    boolean isOver =
        database.number("SELECT count(ended) FROM rehearsal WHERE id = ?", rehearsal) > 0;
    if (whole.trace().size() <= here || !isOver) {
      return false;
    }
    RunWriter.clearParts(database, run);
    database.update("DELETE FROM judgement WHERE run = ?", run);
    recorded(database, run, whole);
    database.update(
        "UPDATE run SET is_void = ? WHERE id = ?", whole.run().entry().isVoid() ? 1 : 0, run);
    RunEntry entry = whole.run().entry();
    RunWriter.end(database, rehearsal, ended(entry), entry.length().toNanos());
    return true;
  }

  private static void recorded(Database database, long run, WholeRun whole) throws SQLException {
    for (Map.Entry<Place, List<Arrival>> wire : whole.wires().entrySet()) {
      WireTape tape = new WireTape();
      wire.getValue().forEach(tape::add);
      RunWriter.wire(database, run, new Stand(whole.lane(), wire.getKey()), 0, tape.write(0));
    }
    Trace trace = whole.trace();
    for (Place place : trace.places()) {
      WeightTape tape = WeightTape.of(trace, place);
      RunWriter.weights(
          database, run, new Stand(whole.lane(), place), 0, tape.size(), tape.write(0));
    }
    for (Judgement judgement : whole.judgements()) {
      JudgementRows.add(database, run, judgement);
    }
  }
}
