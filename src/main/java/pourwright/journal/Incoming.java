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

/** Puts a run from elsewhere into the tables. */
final class Incoming {
  private Incoming() {}

  /** The id it has here; null when it was here already. */
  static @Nullable Long add(Database database, WholeRun whole) throws SQLException {
    long rehearsal =
        database.number("SELECT ifnull(max(id), 0) FROM rehearsal WHERE key = ?", whole.key());
    if (rehearsal != 0
        && database.number(
                "SELECT count(*) FROM run WHERE rehearsal = ? AND lane = ?",
                rehearsal,
                whole.lane())
            > 0) {
      return null;
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
    for (Map.Entry<Place, List<Arrival>> wire : whole.wires().entrySet()) {
      WireTape tape = new WireTape();
      wire.getValue().forEach(tape::add);
      RunWriter.wire(database, run, new Stand(whole.lane(), wire.getKey()), 0, tape.write(0));
    }
    weights(database, run, whole);
    for (Judgement judgement : whole.judgements()) {
      JudgementRows.add(database, run, judgement);
    }
    for (StrengthReading strength : kept.strengths()) {
      RunWriter.strength(database, run, strength);
    }
    for (Tasting tasting : kept.tastings()) {
      RunWriter.tasting(database, run, tasting);
    }
    for (Map.Entry<Integer, Mass> estimate : kept.estimates().entrySet()) {
      RunWriter.estimate(database, run, estimate.getKey(), estimate.getValue());
    }
    return run;
  }

  private static long rehearsal(Database database, WholeRun whole) throws SQLException {
    RunEntry entry = whole.run().entry();
    RunEntry.State ended =
        entry.state() == RunEntry.State.RECORDING ? RunEntry.State.CUT_SHORT : entry.state();
    return database.insert(
        "INSERT INTO rehearsal (key, started_at, program, is_simulated, feedback, faded_run, ended,"
            + " length) VALUES (?,?,?,?,?,?,?,?)",
        whole.key(),
        entry.startedAt().toEpochMilli(),
        whole.run().program(),
        entry.isSimulated() ? 1 : 0,
        entry.feedback().word(),
        whole.fadedRun(),
        ended.word(),
        entry.length().toNanos());
  }

  private static void weights(Database database, long run, WholeRun whole) throws SQLException {
    Trace trace = whole.trace();
    for (Place place : trace.places()) {
      WeightTape tape = WeightTape.of(trace, place);
      RunWriter.weights(
          database, run, new Stand(whole.lane(), place), 0, tape.size(), tape.write(0));
    }
  }
}
