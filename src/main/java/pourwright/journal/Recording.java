package pourwright.journal;

import java.io.IOException;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import pourwright.detect.Analysis;
import pourwright.detect.PourEvent;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.reading.Reading;
import pourwright.session.Afterword;
import pourwright.session.Command;
import pourwright.session.Journal;
import pourwright.session.Notebook;
import pourwright.session.Outcome;
import pourwright.session.RunStart;
import pourwright.session.Stand;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * One rehearsal while it is being kept.
 *
 * <p>Each {@link #persist} is one transaction: bytes first, then weights, then events. All of the
 * run stays in memory until its end, about 50 bytes a reading; so a journal that is damaged, or
 * taken away, in mid run is set aside and the whole run written into a new one.
 */
public final class Recording implements Journal, Notebook {
  private JournalFile journal;
  private final Consumer<String> notes;
  private final Owner owner = Owner.self();
  private final String key;
  private final Map<Integer, Long> strengths = new HashMap<>();
  private final Map<Stand, WireTape> wires = new LinkedHashMap<>();
  private final Map<Stand, WeightTape> weights = new LinkedHashMap<>();
  private final Map<Integer, List<PourEvent>> events = new TreeMap<>();
  private final List<Told> told = new ArrayList<>();
  private @Nullable RunStart start;
  private @Nullable Outcome outcome;
  private Kept kept = Kept.NOTHING;
  private boolean isOver;

  /** What the brewer told the rehearsal. */
  private record Told(SessionTime at, Command command) {}

  /**
   * How much of the run is safe.
   *
   * @param runs ids by lane
   * @param wires arrivals by stand
   * @param weights readings by stand
   * @param events events by lane
   */
  private record Kept(
      long rehearsal,
      Map<Integer, Long> runs,
      Map<Stand, Integer> wires,
      Map<Stand, Integer> weights,
      Map<Integer, Integer> events,
      int told,
      int parts) {
    static final Kept NOTHING = new Kept(0, Map.of(), Map.of(), Map.of(), Map.of(), 0, 0);

    boolean isNothing() {
      return rehearsal == 0;
    }
  }

  /**
   * @param key the same in every copy of this rehearsal
   */
  Recording(JournalFile journal, String key, Consumer<String> notes) {
    this.journal = journal;
    this.key = key;
    this.notes = notes;
  }

  /** The runs by lane; empty until the first {@link #persist}. */
  public synchronized Map<Integer, Long> runs() {
    return Map.copyOf(kept.runs());
  }

  @Override
  public synchronized void begin(RunStart run) {
    start = run;
    for (RunStart.Lane lane : run.lanes()) {
      events.put(lane.number(), new ArrayList<>());
      for (RunStart.HeardScale scale : lane.scales()) {
        wires.put(scale.stand(), new WireTape());
        weights.put(scale.stand(), new WeightTape());
      }
    }
  }

  @Override
  public synchronized void chunk(Stand from, Chunk chunk) {
    of(wires, from).add(new Arrival.Received(chunk));
  }

  @Override
  public synchronized void lost(Stand from, SessionTime at, String why) {
    of(wires, from).add(new Arrival.Lost(at, why));
  }

  @Override
  public synchronized void restored(Stand from, SessionTime at) {
    of(wires, from).add(new Arrival.Restored(at));
  }

  @Override
  public synchronized void reading(Stand from, Reading reading) {
    of(weights, from).add(reading);
  }

  @Override
  public synchronized void event(int lane, PourEvent event) {
    Optional.ofNullable(events.get(lane)).ifPresent(own -> own.add(event));
  }

  @Override
  public synchronized void command(SessionTime at, Command command) {
    told.add(new Told(at, command));
  }

  @Override
  public synchronized void end(Outcome result) {
    outcome = result;
  }

  private static <T> T of(Map<Stand, T> tapes, Stand from) {
    @Nullable T tape = tapes.get(from);
    if (tape == null) {
      throw new IllegalArgumentException("no scale stands at " + from.word());
    }
    return tape;
  }

  @Override
  public synchronized void persist() throws IOException {
    RunStart run = start;
    if (run == null || isOver) {
      return;
    }
    try {
      if (!kept.isNothing() && !journal.isThere()) {
        journal.openAnew("the journal was taken away while this run was recorded");
        kept = Kept.NOTHING;
      }
      write(run);
    } catch (DamagedJournal damaged) {
      notes.accept("the journal was damaged while this run was recorded");
      journal.openAnew(String.valueOf(damaged.getMessage()));
      kept = Kept.NOTHING;
      write(run);
    } catch (IOException failed) {
      throw new IOException(
          "the run is not in the journal yet: "
              + failed.getMessage()
              + "; it waits in memory and is written as soon as that works",
          failed);
    }
  }

  /**
   * Writes all of the run into another journal and leaves the one it was meant for as it is, with
   * what is there of the run already.
   *
   * @throws IOException when the other one cannot take it either; then nothing has changed
   */
  public synchronized void moveTo(JournalFile other) throws IOException {
    JournalFile former = journal;
    Kept before = kept;
    journal = other;
    kept = Kept.NOTHING;
    try {
      persist();
    } catch (IOException failed) {
      journal = former;
      kept = before;
      throw failed;
    }
  }

  private void write(RunStart run) throws IOException {
    Outcome result = outcome;
    kept =
        journal.write(
            database -> {
              Kept begun = kept.isNothing() ? begin(database, run) : kept;
              Kept next = result == null ? append(database, begun) : begun;
              if (result != null) {
                finish(database, begun, result);
              }
              return next;
            });
    isOver = result != null;
  }

  private Kept begin(Database database, RunStart run) throws SQLException {
    long rehearsal =
        database.insert(
            "INSERT INTO rehearsal (key, started_at, program, is_simulated, feedback, faded_run,"
                + " owner_process, owner_since) VALUES (?,?,?,?,?,?,?,?)",
            key,
            run.at().toEpochMilli(),
            run.program(),
            run.simulated() ? 1 : 0,
            run.feedback().word(),
            run.fadedRun(),
            owner.process(),
            owner.since());
    Map<Integer, Long> runs = new HashMap<>();
    for (RunStart.Lane lane : run.lanes()) {
      runs.put(lane.number(), RunWriter.add(database, rehearsal, lane));
    }
    return new Kept(rehearsal, runs, Map.of(), Map.of(), Map.of(), 0, 0);
  }

  private Kept append(Database database, Kept before) throws SQLException {
    int part = before.parts();
    Map<Stand, Integer> wiresKept = new HashMap<>();
    for (Map.Entry<Stand, WireTape> wire : wires.entrySet()) {
      int from = before.wires().getOrDefault(wire.getKey(), 0);
      if (wire.getValue().size() > from) {
        RunWriter.wire(
            database, run(before, wire.getKey()), wire.getKey(), part, wire.getValue().write(from));
      }
      wiresKept.put(wire.getKey(), wire.getValue().size());
    }
    Map<Stand, Integer> weightsKept = new HashMap<>();
    for (Map.Entry<Stand, WeightTape> weight : weights.entrySet()) {
      int from = before.weights().getOrDefault(weight.getKey(), 0);
      WeightTape tape = weight.getValue();
      if (tape.size() > from) {
        RunWriter.weights(
            database,
            run(before, weight.getKey()),
            weight.getKey(),
            part,
            tape.size() - from,
            tape.write(from));
      }
      weightsKept.put(weight.getKey(), tape.size());
    }
    Map<Integer, Integer> eventsKept = new HashMap<>();
    for (Map.Entry<Integer, List<PourEvent>> own : events.entrySet()) {
      int from = before.events().getOrDefault(own.getKey(), 0);
      events(
          database,
          Optional.ofNullable(before.runs().get(own.getKey())).orElseThrow(),
          own.getValue(),
          from);
      eventsKept.put(own.getKey(), own.getValue().size());
    }
    told(database, before.rehearsal(), before.told());
    return new Kept(
        before.rehearsal(),
        before.runs(),
        wiresKept,
        weightsKept,
        eventsKept,
        told.size(),
        part + 1);
  }

  private static long run(Kept begun, Stand stand) {
    return Optional.ofNullable(begun.runs().get(stand.lane())).orElseThrow();
  }

  private static void events(Database database, long run, List<PourEvent> all, int from)
      throws SQLException {
    for (int i = from; i < all.size(); i++) {
      database.update(
          "INSERT INTO event (run, part, detector, event) VALUES (?,?,?,?)",
          run,
          i,
          Analysis.VERSION,
          JudgementJson.write(all.get(i)));
    }
  }

  private void told(Database database, long rehearsal, int from) throws SQLException {
    for (int i = from; i < told.size(); i++) {
      Told each = told.get(i);
      @Nullable Integer lane = null;
      @Nullable Integer pour = null;
      @Nullable Long mass = null;
      if (each.command() instanceof Command.MarkDrained mark) {
        lane = mark.lane();
      } else if (each.command() instanceof Command.Tare tare) {
        lane = tare.lane();
      } else if (each.command() instanceof Command.ScaleIsUnder under) {
        lane = under.lane();
      } else if (each.command() instanceof Command.Estimate guess) {
        lane = guess.lane();
        pour = guess.pour();
        mass = guess.poured().nanograms();
      }
      database.update(
          "INSERT INTO told (rehearsal, part, at, word, lane, pour, mass) VALUES (?,?,?,?,?,?,?)",
          rehearsal,
          i,
          each.at().nanos(),
          word(each.command()),
          lane,
          pour,
          mass);
    }
  }

  /** Stored names are words of their own, so that classes may be renamed. */
  private static String word(Command command) {
    if (command instanceof Command.VoidRun) {
      return RunWriter.VOID;
    } else if (command instanceof Command.MarkDrained) {
      return RunWriter.DRAINED;
    } else if (command instanceof Command.Tare) {
      return "tare";
    } else if (command instanceof Command.Estimate) {
      return RunWriter.ESTIMATE;
    } else if (command instanceof Command.ScaleIsUnder) {
      return "scale_under";
    }
    return "stop";
  }

  /** The many parts become one, and what was found is put beside them. */
  private void finish(Database database, Kept begun, Outcome result) throws SQLException {
    for (long run : begun.runs().values()) {
      RunWriter.clearParts(database, run);
    }
    for (Map.Entry<Stand, WireTape> wire : wires.entrySet()) {
      RunWriter.wire(
          database, run(begun, wire.getKey()), wire.getKey(), 0, wire.getValue().write(0));
    }
    for (Map.Entry<Stand, WeightTape> weight : weights.entrySet()) {
      WeightTape tape = weight.getValue();
      RunWriter.weights(
          database, run(begun, weight.getKey()), weight.getKey(), 0, tape.size(), tape.write(0));
    }
    told(database, begun.rehearsal(), begun.told());
    for (Outcome.LaneOutcome lane : result.lanes()) {
      long run = Optional.ofNullable(begun.runs().get(lane.number())).orElseThrow();
      List<PourEvent> announced = Optional.ofNullable(events.get(lane.number())).orElse(List.of());
      events(database, run, announced, begun.events().getOrDefault(lane.number(), 0));
      JudgementRows.add(database, run, lane.analysis(), lane.comparison());
      for (Map.Entry<Integer, Mass> estimate : lane.estimates().entrySet()) {
        RunWriter.estimate(database, run, estimate.getKey(), estimate.getValue());
      }
      database.update("UPDATE run SET is_void = ? WHERE id = ?", result.isVoid() ? 1 : 0, run);
    }
    RunWriter.end(
        database,
        begun.rehearsal(),
        result.why().name().toLowerCase(Locale.ROOT),
        result.length().toNanos());
  }

  /** Keeps what the brewer adds to a lane of this rehearsal; replaces what was added before. */
  @Override
  public synchronized void keep(Afterword afterword) throws IOException {
    @Nullable Long run = kept.runs().get(afterword.lane());
    if (run == null) {
      throw new IOException(
          "The run itself could not be kept, so there is no place for your words. Write them"
              + " down.");
    }
    if (afterword.note().isPresent()) {
      journal.note(run, afterword.note().get());
    }
    for (Map.Entry<Integer, Mass> estimate : afterword.estimates().entrySet()) {
      journal.estimate(run, estimate.getKey(), estimate.getValue());
    }
    if (afterword.strengthPercent().isPresent()) {
      long added =
          journal.addStrength(
              run,
              new StrengthReading(
                  0,
                  Instant.now(),
                  afterword.strengthPercent().getAsDouble(),
                  OptionalDouble.empty(),
                  ""));
      @Nullable Long before = strengths.put(afterword.lane(), added);
      if (before != null) {
        journal.removeStrength(before);
      }
    }
  }
}
