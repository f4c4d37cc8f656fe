package pourwright.journal;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.Collectors;
import pourwright.coach.Feedback;
import pourwright.detect.PourEvent;
import pourwright.device.Transport.Arrival;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.recording.Trace;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.RunStart;
import pourwright.session.Stand;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Reads runs out of the tables. */
final class RunRows {
  private static final String ENTRIES =
      """
      SELECT run.id, run.lane, run.brewer, run.rig, run.title, run.plan, run.is_void, run.note,
        run.deleted_at IS NOT NULL AS is_deleted,
        rehearsal.started_at, rehearsal.program, rehearsal.feedback, rehearsal.is_simulated,
        rehearsal.ended, ifnull(rehearsal.length, 0) AS length,
        judgement.detector, judgement.made_at, ifnull(judgement.pours, 0) AS pours,
        judgement.planned, judgement.inside, judgement.deviation_index,%s
        (SELECT avg(percent) FROM strength WHERE strength.run = run.id) AS percent,
        EXISTS (SELECT 1 FROM tasting WHERE tasting.run = run.id) AS is_tasted
      FROM run
        JOIN rehearsal ON rehearsal.id = run.rehearsal
        LEFT JOIN judgement ON judgement.id = run.judgement
      WHERE %s
      ORDER BY run.id %s LIMIT ?
      """;

  private static final String FOUND =
      " judgement.announced, judgement.findings, judgement.comparison,";

  private final Database database;

  /** Many runs have the same plan, and reading one takes longer than all the rest of a run. */
  private final Map<String, Optional<RunStart.WrittenPlan>> plans = new HashMap<>();

  RunRows(Database database) {
    this.database = database;
  }

  /** The newest first. */
  List<RunEntry> listEntries(RunFilter filter) throws SQLException {
    return database.list(
        ENTRIES.formatted("", filter.where(), "DESC"), RunRows::entry, valuesOf(filter));
  }

  /** The oldest first. */
  List<KeptRun> listRuns(RunFilter filter) throws SQLException {
    return database.list(
        ENTRIES.formatted(FOUND, filter.where(), "ASC"), this::run, valuesOf(filter));
  }

  Optional<KeptRun> findRun(long id) throws SQLException {
    return database.find(ENTRIES.formatted(FOUND, "run.id = ?", "ASC"), this::run, id, -1);
  }

  private static Object[] valuesOf(RunFilter filter) {
    List<Object> values = new ArrayList<>(List.of(filter.values()));
    values.add(filter.most());
    return values.toArray();
  }

  private static RunEntry entry(ResultSet row) throws SQLException {
    return new RunEntry(
        row.getLong("id"),
        Instant.ofEpochMilli(row.getLong("started_at")),
        row.getString("brewer"),
        Optional.ofNullable(row.getString("title")),
        Rig.findByWord(row.getString("rig")).orElse(Rig.WHOLE),
        Feedback.findByWord(row.getString("feedback")).orElse(Feedback.FULL),
        row.getBoolean("is_simulated"),
        row.getBoolean("is_void"),
        row.getBoolean("is_deleted"),
        Optional.ofNullable(row.getString("ended"))
            .flatMap(RunEntry.State::findByWord)
            .orElse(RunEntry.State.RECORDING),
        Duration.ofNanos(row.getLong("length")),
        row.getInt("pours"),
        findInt(row, "planned"),
        findInt(row, "inside"),
        findDouble(row, "deviation_index"),
        findDouble(row, "percent"),
        row.getBoolean("is_tasted"),
        row.getString("note"));
  }

  private KeptRun run(ResultSet row) throws SQLException {
    RunEntry entry = entry(row);
    int lane = row.getInt("lane");
    Optional<RunStart.WrittenPlan> plan =
        Optional.ofNullable(row.getString("plan"))
            .flatMap(text -> plans.computeIfAbsent(text, RunRows::plan));
    return new KeptRun(
        entry,
        row.getString("program"),
        plan,
        scales(entry.id(), lane),
        judgement(row),
        strengths(entry.id()),
        tastings(entry.id()),
        estimates(entry.id()),
        seenDry(entry.id()));
  }

  /** Empty where this program does not understand it any more. */
  private static Optional<RunStart.WrittenPlan> plan(String text) {
    return PlanReader.read(text, "the kept plan") instanceof PlanReading.Understood understood
        ? Optional.of(new RunStart.WrittenPlan(text, understood.plan()))
        : Optional.empty();
  }

  private static Optional<Judgement> judgement(ResultSet row) throws SQLException {
    String findings = row.getString("findings");
    if (findings == null) {
      return Optional.empty();
    }
    List<PourEvent> announced = JudgementJson.readEvents(row.getString("announced"));
    return Optional.of(
        new Judgement(
            row.getInt("detector"),
            Instant.ofEpochMilli(row.getLong("made_at")),
            announced,
            JudgementJson.readFindings(findings),
            Optional.ofNullable(row.getString("comparison")).map(JudgementJson::readComparison)));
  }

  /** All judgements of a run, the oldest first. */
  List<Judgement> listJudgements(long run) throws SQLException {
    return database.list(
        "SELECT * FROM judgement WHERE run = ? ORDER BY id",
        row -> judgement(row).orElseThrow(),
        run);
  }

  private List<RunStart.HeardScale> scales(long run, int lane) throws SQLException {
    return database.list(
        "SELECT place, address, profile, lag, noise FROM scale WHERE run = ? ORDER BY place DESC",
        row ->
            new RunStart.HeardScale(
                new Stand(lane, Place.findByWord(row.getString(1)).orElse(Place.WHOLE)),
                row.getString(2),
                row.getString(3),
                findDouble(row, "lag"),
                findDouble(row, "noise")),
        run);
  }

  private List<StrengthReading> strengths(long run) throws SQLException {
    return database.list(
        "SELECT id, at, percent, uncertainty, instrument FROM strength WHERE run = ? ORDER BY id",
        row ->
            new StrengthReading(
                row.getLong("id"),
                Instant.ofEpochMilli(row.getLong("at")),
                row.getDouble("percent"),
                findDouble(row, "uncertainty"),
                row.getString("instrument")),
        run);
  }

  private List<Tasting> tastings(long run) throws SQLException {
    Map<Long, Map<TasteItem, Double>> scores = new HashMap<>();
    database.list(
        "SELECT tasting, item, points FROM score JOIN tasting ON tasting.id = score.tasting"
            + " WHERE tasting.run = ?",
        row -> {
          Map<TasteItem, Double> own =
              scores.computeIfAbsent(row.getLong(1), id -> new EnumMap<>(TasteItem.class));
          Optional<TasteItem> item = TasteItem.findByWord(row.getString(2));
          if (item.isPresent()) {
            own.put(item.get(), row.getDouble(3));
          }
          return own;
        },
        run);
    return database.list(
        "SELECT id, at, taster, note FROM tasting WHERE run = ? ORDER BY id",
        row ->
            new Tasting(
                row.getLong("id"),
                Instant.ofEpochMilli(row.getLong("at")),
                row.getString("taster"),
                scores.getOrDefault(row.getLong("id"), Map.of()),
                row.getString("note")),
        run);
  }

  private Map<Integer, Mass> estimates(long run) throws SQLException {
    Map<Integer, Mass> estimates = new LinkedHashMap<>();
    database.list(
        "SELECT pour, poured FROM estimate WHERE run = ? ORDER BY pour",
        row -> estimates.put(row.getInt(1), Mass.ofNanograms(row.getLong(2))),
        run);
    return estimates;
  }

  private List<SessionTime> seenDry(long run) throws SQLException {
    return database.list(
        "SELECT told.at FROM told JOIN run"
            + " ON run.rehearsal = told.rehearsal AND run.lane = told.lane"
            + " WHERE run.id = ? AND told.word = ? ORDER BY told.at",
        row -> SessionTime.ofNanos(row.getLong(1)),
        run,
        RunWriter.DRAINED);
  }

  /** What came over the wire of one scale, as it came. */
  List<Arrival> wire(long run, Place place) throws SQLException {
    List<Arrival> arrivals = new ArrayList<>();
    database.list(
        "SELECT tape FROM raw WHERE run = ? AND place = ? ORDER BY part",
        row -> {
          WireTape.read(row.getBytes(1), arrivals::add);
          return arrivals;
        },
        run,
        place.word());
    return arrivals;
  }

  /** A run with everything that belongs to it. */
  Optional<WholeRun> findWhole(long id) throws SQLException {
    Optional<KeptRun> run = findRun(id);
    if (run.isEmpty()) {
      return Optional.empty();
    }
    Map<Place, List<Arrival>> wires = new EnumMap<>(Place.class);
    for (Place place : run.get().entry().rig().places()) {
      List<Arrival> wire = wire(id, place);
      if (!wire.isEmpty()) {
        wires.put(place, wire);
      }
    }
    Trace trace = trace(id);
    List<Judgement> judgements = listJudgements(id);
    return database.find(
        "SELECT key, lane, faded_run FROM run JOIN rehearsal ON rehearsal.id = run.rehearsal"
            + " WHERE run.id = ?",
        row ->
            new WholeRun(
                row.getString(1),
                row.getInt(2),
                row.getInt(3),
                run.get(),
                judgements,
                wires,
                trace),
        id);
  }

  /** Everything weighed, in order of time. */
  Trace trace(long run) throws SQLException {
    Map<Place, Trace.Builder> each = new EnumMap<>(Place.class);
    database.list(
        "SELECT place, tape FROM trace WHERE run = ? ORDER BY place, part",
        row -> {
          Place place = Place.findByWord(row.getString(1)).orElse(Place.WHOLE);
          Trace.Builder rows = each.computeIfAbsent(place, ignored -> new Trace.Builder());
          WeightTape.read(row.getBytes(2), place, rows);
          return place;
        },
        run);
    List<Trace> traces =
        each.values().stream().map(Trace.Builder::build).collect(Collectors.toList());
    return traces.size() == 1 ? traces.get(0) : merged(traces);
  }

  /** Of weights of one moment those of the first trace come first. */
  private static Trace merged(List<Trace> traces) {
    Trace.Builder all = new Trace.Builder();
    int[] next = new int[traces.size()];
    while (true) {
      int earliest = -1;
      for (int i = 0; i < next.length; i++) {
        if (next[i] < traces.get(i).size()
            && (earliest < 0
                || traces.get(i).nanosAt(next[i]) < traces.get(earliest).nanosAt(next[earliest]))) {
          earliest = i;
        }
      }
      if (earliest < 0) {
        return all.build();
      }
      Trace from = traces.get(earliest);
      int index = next[earliest]++;
      all.add(from.readingAt(index), from.placeAt(index));
    }
  }

  private static OptionalInt findInt(ResultSet row, String column) throws SQLException {
    int value = row.getInt(column);
    return row.wasNull() ? OptionalInt.empty() : OptionalInt.of(value);
  }

  private static OptionalDouble findDouble(ResultSet row, String column) throws SQLException {
    double value = row.getDouble(column);
    return row.wasNull() ? OptionalDouble.empty() : OptionalDouble.of(value);
  }
}
