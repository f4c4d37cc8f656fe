package pourwright.record;

import com.fasterxml.jackson.core.JsonEncoding;
import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.text.Normalizer;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.detect.PourEvent;
import pourwright.device.Chunk;
import pourwright.reading.Reading;
import pourwright.recording.AppendFile;
import pourwright.recording.RawStreamWriter;
import pourwright.recording.TraceWriter;
import pourwright.session.Journal;
import pourwright.session.Outcome;
import pourwright.session.RunStart;
import pourwright.session.Stand;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Keeps a run as files that other programs can read, in a folder of its own:
 *
 * <ul>
 *   <li>{@code run.json}: when, which program, brewers, rigs, scales, feedback;
 *   <li>{@code plan.yaml}: the plan as it was;
 *   <li>{@code whole.stream}, {@code server.stream}: what came over the wire of each scale;
 *   <li>{@code trace.csv}: what it meant;
 *   <li>{@code result.json}: what was found, once the run is over.
 * </ul>
 *
 * <p>With several brewers each has a folder {@code lane-N} with its own plan, streams, trace and
 * result. A run without {@code result.json} was cut short; its streams and trace are whole up to
 * the last second.
 */
public final class RunFolder implements Journal {
  private static final Logger LOG = LoggerFactory.getLogger(RunFolder.class);
  private static final JsonFactory JSON = new JsonFactory();
  private static final DateTimeFormatter STAMP =
      DateTimeFormatter.ofPattern("uuuu-MM-dd_HH.mm.ss", Locale.ROOT);
  private static final int MOST_NAMESAKES = 1000;
  private static final int LONGEST_TITLE = 40;

  private final Path runs;
  private final Opener opener;
  private final List<Note> waiting = new ArrayList<>();
  private @Nullable RunStart start;
  private @Nullable Outcome outcome;
  private @Nullable OpenFiles files;
  private boolean isResultKept;

  /** Makes the files that grow. */
  @FunctionalInterface
  public interface Opener {
    /**
     * A new, empty file.
     *
     * @throws IOException when it cannot be made
     */
    AppendFile open(Path path) throws IOException;
  }

  /** Something that was noted before there were files. */
  private interface Note {
    void write(OpenFiles files);
  }

  /** The open files of a run. */
  private record OpenFiles(
      Path folder, Map<Stand, RawStreamWriter> streams, Map<Integer, TraceWriter> traces) {}

  /**
   * A run that is kept in a new folder within {@code runs}.
   *
   * @param runs may not exist yet
   */
  public RunFolder(Path runs) {
    this(runs, AppendFile::create);
  }

  RunFolder(Path runs, Opener opener) {
    this.runs = runs;
    this.opener = opener;
  }

  /** Where the run is kept; empty until there is such a folder. */
  public Optional<Path> folder() {
    return Optional.ofNullable(files).map(OpenFiles::folder);
  }

  @Override
  public void begin(RunStart run) {
    start = run;
  }

  @Override
  public void chunk(Stand from, Chunk chunk) {
    note(open -> stream(open, from).add(chunk));
  }

  @Override
  public void lost(Stand from, SessionTime at, String why) {
    note(open -> stream(open, from).lost(at, why));
  }

  @Override
  public void restored(Stand from, SessionTime at) {
    note(open -> stream(open, from).restored(at));
  }

  @Override
  public void reading(Stand from, Reading reading) {
    note(
        open -> {
          TraceWriter trace = open.traces().get(from.lane());
          if (trace != null) {
            trace.add(reading, from.place());
          }
        });
  }

  /** Events follow from the streams; nothing is kept of them until the result. */
  @Override
  public void event(int lane, PourEvent event) {}

  @Override
  public void end(Outcome result) {
    outcome = result;
  }

  private void note(Note note) {
    if (files == null) {
      waiting.add(note);
    } else {
      note.write(files);
    }
  }

  private static RawStreamWriter stream(OpenFiles open, Stand from) {
    RawStreamWriter stream = open.streams().get(from);
    if (stream == null) {
      throw new IllegalArgumentException("no scale stands at " + from.word());
    }
    return stream;
  }

  @Override
  public void persist() throws IOException {
    RunStart run = start;
    if (run == null || isResultKept) {
      return;
    }
    try {
      OpenFiles open = files == null ? open(run) : files;
      for (RawStreamWriter stream : open.streams().values()) {
        stream.force();
      }
      for (TraceWriter trace : open.traces().values()) {
        trace.force();
      }
      if (outcome != null) {
        keepResult(open, outcome);
        close(open);
        isResultKept = true;
      }
    } catch (IOException failed) {
      LOG.debug("not kept yet", failed);
      throw new IOException(
          "the run is not on disk yet: "
              + DataFolder.reason(failed)
              + " ("
              + folder().orElse(runs)
              + "); it waits in memory and is written as soon as that works: make room there",
          failed);
    }
  }

  /** Makes the folder and all files that grow, or nothing at all. */
  private OpenFiles open(RunStart run) throws IOException {
    Path folder = newFolder(run);
    OpenFiles open = new OpenFiles(folder, new LinkedHashMap<>(), new LinkedHashMap<>());
    try {
      write(folder.resolve("run.json"), RunJson.of(run));
      for (RunStart.Lane lane : run.lanes()) {
        open(open, lane, folder(folder, run, lane.number()));
      }
    } catch (IOException failed) {
      discard(open);
      throw failed;
    }
    forceFolder(folder);
    files = open;
    waiting.forEach(note -> note.write(open));
    waiting.clear();
    return open;
  }

  private void open(OpenFiles open, RunStart.Lane lane, Path own) throws IOException {
    Files.createDirectories(own);
    if (lane.plan().isPresent()) {
      write(own.resolve("plan.yaml"), lane.plan().get().text().getBytes(StandardCharsets.UTF_8));
    }
    for (RunStart.HeardScale scale : lane.scales()) {
      String place = scale.stand().place().word();
      Map<String, String> headers = new LinkedHashMap<>();
      headers.put("profile", scale.profile());
      headers.put("rig", lane.rig().word());
      headers.put("place", place);
      headers.put("note", "from " + scale.address());
      AppendFile file = opener.open(own.resolve(place + ".stream"));
      open.streams().put(scale.stand(), RawStreamWriter.begin(file, headers));
    }
    AppendFile file = opener.open(own.resolve("trace.csv"));
    open.traces().put(lane.number(), TraceWriter.begin(file, Set.copyOf(lane.rig().places())));
  }

  /** Takes back a folder in which not everything could be made. */
  private static void discard(OpenFiles open) {
    try {
      close(open);
      try (Stream<Path> made = Files.walk(open.folder())) {
        for (Path path : made.sorted(Comparator.reverseOrder()).toList()) {
          Files.delete(path);
        }
      }
    } catch (IOException stuck) {
      LOG.warn("{} is left half made: {}", open.folder(), stuck.getMessage());
    }
  }

  private static void close(OpenFiles open) throws IOException {
    for (RawStreamWriter stream : open.streams().values()) {
      stream.close();
    }
    for (TraceWriter trace : open.traces().values()) {
      trace.close();
    }
  }

  /** Names are for people: local time and the title of the plan. */
  private Path newFolder(RunStart run) throws IOException {
    Files.createDirectories(runs);
    String title =
        run.lanes().stream()
            .flatMap(lane -> lane.plan().stream())
            .findFirst()
            .map(written -> slug(written.plan().title()))
            .orElse("free-run");
    String name = STAMP.format(OffsetDateTime.ofInstant(run.at(), ZoneId.systemDefault()));
    for (int namesake = 1; namesake <= MOST_NAMESAKES; namesake++) {
      Path folder = runs.resolve(name + "_" + title + (namesake == 1 ? "" : "-" + namesake));
      if (!Files.exists(folder)) {
        return Files.createDirectory(folder);
      }
    }
    throw new IOException("too many runs of the same second in " + runs);
  }

  private static String slug(String title) {
    String plain =
        Normalizer.normalize(title, Normalizer.Form.NFD)
            .toLowerCase(Locale.ROOT)
            .replaceAll("\\p{M}", "")
            .replaceAll("[^\\p{L}\\p{N}]+", "-")
            .replaceAll("^-|-$", "");
    String cut = plain.substring(0, Math.min(plain.length(), LONGEST_TITLE));
    return cut.isEmpty() ? "plan" : cut;
  }

  private static Path folder(Path run, RunStart start, int lane) {
    return start.lanes().size() == 1 ? run : run.resolve("lane-" + lane);
  }

  private static void keepResult(OpenFiles open, Outcome result) throws IOException {
    for (Outcome.LaneOutcome lane : result.lanes()) {
      Path own = folder(open.folder(), result.start(), lane.number());
      Path draft = own.resolve("result.json.part");
      write(draft, result(result, lane));
      Files.move(
          draft,
          own.resolve("result.json"),
          StandardCopyOption.ATOMIC_MOVE,
          StandardCopyOption.REPLACE_EXISTING);
      forceFolder(own);
    }
  }

  private static byte[] result(Outcome result, Outcome.LaneOutcome lane) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (JsonGenerator json = JSON.createGenerator(bytes, JsonEncoding.UTF8)) {
      json.useDefaultPrettyPrinter();
      json.writeStartObject();
      ResultJson.writeMembers(json, lane.analysis().findings(), lane.comparison(), List.of());
      json.writeStringField("ended", result.why().name().toLowerCase(Locale.ROOT));
      json.writeBooleanField("void", result.isVoid());
      json.writeStringField("feedback", result.start().feedback().word());
      json.writeArrayFieldStart("own_estimates");
      for (Map.Entry<Integer, Mass> estimate : new TreeMap<>(lane.estimates()).entrySet()) {
        json.writeStartObject();
        json.writeNumberField("pour", estimate.getKey());
        json.writeNumberField("poured_g", estimate.getValue().grams());
        json.writeEndObject();
      }
      json.writeEndArray();
      json.writeEndObject();
    }
    return bytes.toByteArray();
  }

  private static void write(Path path, byte[] bytes) throws IOException {
    try (FileChannel out =
        FileChannel.open(
            path,
            StandardOpenOption.CREATE,
            StandardOpenOption.TRUNCATE_EXISTING,
            StandardOpenOption.WRITE)) {
      ByteBuffer left = ByteBuffer.wrap(bytes);
      while (left.hasRemaining()) {
        out.write(left);
      }
      out.force(true);
    }
  }

  /** Makes new names in a folder survive a power cut, where the operating system can. */
  private static void forceFolder(Path folder) {
    try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
      channel.force(true);
    } catch (IOException unsupported) {
      LOG.debug("{} cannot be forced to disk", folder, unsupported);
    }
  }
}
