package pourwright.journal;

import java.sql.SQLException;
import java.util.Map;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import pourwright.session.RunStart;
import pourwright.session.Stand;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Puts the parts of a run into the tables. */
final class RunWriter {
  static final String VOID = "void";
  static final String ESTIMATE = "estimate";
  static final String DRAINED = "drained";

  private RunWriter() {}

  /** A run with nothing recorded yet; its id. */
  static long add(Database database, long rehearsal, RunStart.Lane lane) throws SQLException {
    @Nullable String title = lane.plan().map(written -> written.plan().title()).orElse(null);
    @Nullable String plan = lane.plan().map(RunStart.WrittenPlan::text).orElse(null);
    long run =
        database.insert(
            "INSERT INTO run (rehearsal, lane, brewer, rig, title, plan) VALUES (?,?,?,?,?,?)",
            rehearsal,
            lane.number(),
            lane.brewer(),
            lane.rig().word(),
            title,
            plan);
    for (RunStart.HeardScale scale : lane.scales()) {
      database.update(
          "INSERT INTO scale (run, place, address, profile, lag, noise) VALUES (?,?,?,?,?,?)",
          run,
          scale.stand().place().word(),
          scale.address(),
          scale.profile(),
          orNull(scale.lagSeconds()),
          orNull(scale.noiseGrams()));
    }
    return run;
  }

  static void wire(Database database, long run, Stand stand, int part, byte[] tape)
      throws SQLException {
    database.update(
        "INSERT INTO raw (run, place, part, tape) VALUES (?,?,?,?)",
        run,
        stand.place().word(),
        part,
        tape);
  }

  static void weights(Database database, long run, Stand stand, int part, int readings, byte[] tape)
      throws SQLException {
    database.update(
        "INSERT INTO trace (run, place, part, readings, tape) VALUES (?,?,?,?,?)",
        run,
        stand.place().word(),
        part,
        readings,
        tape);
  }

  static void clearParts(Database database, long run) throws SQLException {
    database.update("DELETE FROM raw WHERE run = ?", run);
    database.update("DELETE FROM trace WHERE run = ?", run);
  }

  static void estimate(Database database, long run, int pour, Mass poured) throws SQLException {
    database.update(
        "INSERT INTO estimate (run, pour, poured) VALUES (?,?,?)"
            + " ON CONFLICT (run, pour) DO UPDATE SET poured = excluded.poured",
        run,
        pour,
        poured.nanograms());
  }

  /** What the brewer of another journal said of a bed. */
  static void seenDry(Database database, long rehearsal, int lane, SessionTime at)
      throws SQLException {
    database.update(
        "INSERT INTO told (rehearsal, part, at, word, lane)"
            + " SELECT ?1, ifnull(max(part), -1) + 1, ?2, ?3, ?4 FROM told WHERE rehearsal = ?1",
        rehearsal,
        at.nanos(),
        DRAINED,
        lane);
  }

  private static @Nullable Double orNull(OptionalDouble value) {
    return value.isPresent() ? value.getAsDouble() : null;
  }

  static long strength(Database database, long run, StrengthReading reading) throws SQLException {
    return database.insert(
        "INSERT INTO strength (run, at, percent, uncertainty, instrument) VALUES (?,?,?,?,?)",
        run,
        reading.at().toEpochMilli(),
        reading.percent(),
        orNull(reading.uncertaintyPercent()),
        reading.instrument());
  }

  static long tasting(Database database, long run, Tasting tasting) throws SQLException {
    long id =
        database.insert(
            "INSERT INTO tasting (run, at, taster, note) VALUES (?,?,?,?)",
            run,
            tasting.at().toEpochMilli(),
            tasting.taster(),
            tasting.note());
    for (Map.Entry<TasteItem, Double> score : tasting.scores().entrySet()) {
      database.update(
          "INSERT INTO score (tasting, item, points) VALUES (?,?,?)",
          id,
          score.getKey().word(),
          score.getValue());
    }
    return id;
  }

  static void end(Database database, long rehearsal, String ended, long lengthNanos)
      throws SQLException {
    database.update(
        "UPDATE rehearsal SET ended = ?, length = ?, owner_process = NULL, owner_since = NULL"
            + " WHERE id = ?",
        ended,
        lengthNanos,
        rehearsal);
  }
}
