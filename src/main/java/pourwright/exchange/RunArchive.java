package pourwright.exchange;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.text.Normalizer;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import pourwright.detect.Analysis;
import pourwright.detect.Curve;
import pourwright.device.Transport.Arrival;
import pourwright.journal.Analyst;
import pourwright.journal.JournalFile;
import pourwright.journal.Judgement;
import pourwright.journal.JudgementJson;
import pourwright.journal.RunEntry;
import pourwright.journal.WholeRun;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.recording.BadRecording;
import pourwright.recording.RawStreamReader;
import pourwright.recording.Trace;
import pourwright.recording.TraceCsv;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.RunStart;

/** Takes runs out of the journal, as a folder or a zip of {@link RunFolder}s, and puts them in. */
public final class RunArchive {
  private static final long MOST_SMALL_BYTES = 1 << 20;
  private static final long MOST_JUDGEMENT_BYTES = 32L << 20;
  private static final long MOST_STREAM_BYTES = 128L << 20;
  private static final long MOST_TRACE_BYTES = 256L << 20;
  private static final int LONGEST_TITLE = 40;

  private static final ObjectMapper MAPPER = new ObjectMapper();
  private static final DateTimeFormatter DAY =
      DateTimeFormatter.ofPattern("uuuu-MM-dd_HH.mm", Locale.ROOT);

  private final JournalFile journal;

  public RunArchive(JournalFile journal) {
    this.journal = journal;
  }

  // ---- out

  /**
   * Writes runs, each into a folder of its own.
   *
   * @param target a zip when its name ends so, else a folder; must not exist yet
   * @return how many there were
   */
  public int exportTo(Path target, List<Long> ids) throws IOException {
    if (Files.exists(target)) {
      throw new IOException(target + " exists already; an export never replaces anything");
    }
    Path draft = target.resolveSibling(target.getFileName() + ".part");
    discard(draft);
    boolean isDone = false;
    try {
      if (target.toString().toLowerCase(Locale.ROOT).endsWith(".zip")) {
        try (FileSystem zip =
            FileSystems.newFileSystem(
                URI.create("jar:" + draft.toUri()), Map.of("create", "true"))) {
          writeAll(zip.getPath("/"), ids);
        }
      } else {
        Files.createDirectory(draft);
        writeAll(draft, ids);
      }
      Files.move(draft, target);
      isDone = true;
      return ids.size();
    } catch (NoSuchFileException missing) {
      throw new IOException(target + " cannot be written: there is no such folder", missing);
    } finally {
      if (!isDone) {
        discard(draft);
      }
    }
  }

  private void writeAll(Path into, List<Long> ids) throws IOException {
    for (long id : ids) {
      WholeRun run =
          journal
              .findWhole(id)
              .orElseThrow(() -> new IOException("there is no run " + id + " in the journal"));
      RunFolder.write(run, into.resolve(folderName(run.run().entry())));
    }
  }

  /** Names are for people: number, day and title. */
  private static String folderName(RunEntry run) {
    String day = DAY.format(run.startedAt().atZone(ZoneId.systemDefault()));
    return String.format(
        Locale.ROOT,
        "run-%04d_%s_%s",
        run.id(),
        day,
        run.title().map(RunArchive::slug).orElse("free"));
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

  private static void discard(Path draft) throws IOException {
    if (!Files.exists(draft)) {
      return;
    }
    try (Stream<Path> made = Files.walk(draft)) {
      for (Path path : made.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(path);
      }
    }
  }

  // ---- in

  /**
   * What came of an import.
   *
   * @param added ids of the runs that are new
   * @param known how many were in the journal already and were left as they are
   * @param refused one sentence for each run that could not be read
   */
  public record Imported(List<Long> added, int known, List<String> refused) {
    public Imported {
      added = List.copyOf(added);
      refused = List.copyOf(refused);
    }
  }

  /**
   * Puts in every run of a folder or zip that {@link #exportTo} wrote, or another hand.
   *
   * @param analyst judges runs that come without a judgement
   * @throws RefusedImport when there is no run in it, or it cannot be trusted
   */
  public Imported importFrom(Path source, Analyst analyst) throws IOException {
    try (Shelf shelf =
        Files.isDirectory(source) ? new FolderShelf(source) : ZipShelf.open(source)) {
      List<String> folders =
          shelf.names().stream()
              .filter(name -> name.equals(RunFolder.RUN) || name.endsWith("/" + RunFolder.RUN))
              .map(name -> name.substring(0, name.length() - RunFolder.RUN.length()))
              .toList();
      if (folders.isEmpty()) {
        throw new RefusedImport(
            source + ": holds no run; each run is a folder with a file " + RunFolder.RUN);
      }
      List<Long> added = new ArrayList<>();
      List<String> refused = new ArrayList<>();
      int known = 0;
      for (String folder : folders) {
        try {
          Optional<Long> id = journal.add(read(shelf, folder, analyst));
          id.ifPresent(added::add);
          known += id.isPresent() ? 0 : 1;
        } catch (RefusedImport | BadRecording bad) {
          refused.add(String.valueOf(bad.getMessage()));
        }
      }
      return new Imported(added, known, refused);
    } catch (NoSuchFileException missing) {
      throw new RefusedImport(source + ": no such file", missing);
    }
  }

  private static WholeRun read(Shelf shelf, String folder, Analyst analyst) throws IOException {
    Optional<RunStart.WrittenPlan> plan = Optional.empty();
    if (shelf.names().contains(folder + RunFolder.PLAN)) {
      plan = Optional.of(plan(shelf, folder + RunFolder.PLAN));
    }
    RunJson.Read told =
        RunJson.read(
            bytes(shelf, folder + RunFolder.RUN, MOST_SMALL_BYTES),
            title(shelf, folder + RunFolder.RUN),
            plan);
    Rig rig = told.run().entry().rig();
    Map<Place, List<Arrival>> wires = new EnumMap<>(Place.class);
    for (Place place : rig.places()) {
      String name = folder + place.word() + RunFolder.STREAM_END;
      if (shelf.names().contains(name)) {
        wires.put(place, wire(shelf, name));
      }
    }
    Trace trace = new Trace.Builder().build();
    if (shelf.names().contains(folder + RunFolder.TRACE)) {
      trace = trace(shelf, folder + RunFolder.TRACE, rig);
    }
    List<Judgement> judgements = new ArrayList<>();
    if (shelf.names().contains(folder + RunFolder.JUDGEMENTS)) {
      judgements.addAll(judgements(shelf, folder + RunFolder.JUDGEMENTS));
    }
    if (judgements.isEmpty() && trace.size() > 0) {
      judgements.add(judge(analyst, rig, plan, told.run().scales(), trace));
    }
    return new WholeRun(
        told.key(), told.lane(), told.fadedRun(), told.run(), judgements, wires, trace);
  }

  /** Judges weights that come without a judgement. */
  static Judgement judge(
      Analyst analyst,
      Rig rig,
      Optional<RunStart.WrittenPlan> plan,
      List<RunStart.HeardScale> scales,
      Trace trace) {
    List<Curve> curves = new ArrayList<>();
    for (Place place : rig.places()) {
      Curve curve = new Curve(place, trace.size());
      for (int i = 0; i < trace.size(); i++) {
        if (trace.placeAt(i) == place) {
          curve.add(trace.nanosAt(i), trace.nanogramsAt(i));
        }
      }
      curves.add(curve);
    }
    Analyst.Found found =
        analyst.analyse(rig, plan.map(RunStart.WrittenPlan::plan), scales, curves);
    return new Judgement(
        Analysis.VERSION,
        Instant.now(),
        found.analysis().announced(),
        found.analysis().findings(),
        found.comparison());
  }

  private static RunStart.WrittenPlan plan(Shelf shelf, String name) throws IOException {
    String text = new String(bytes(shelf, name, MOST_SMALL_BYTES), StandardCharsets.UTF_8);
    PlanReading reading = PlanReader.read(text, title(shelf, name));
    if (reading instanceof PlanReading.Understood understood) {
      return new RunStart.WrittenPlan(text, understood.plan());
    }
    throw new RefusedImport(String.valueOf(((PlanReading.Refused) reading).problems().get(0)));
  }

  private static List<Arrival> wire(Shelf shelf, String name) throws IOException {
    List<Arrival> arrivals = new ArrayList<>();
    try (RawStreamReader stream =
        RawStreamReader.of(shelf.open(name, MOST_STREAM_BYTES), title(shelf, name))) {
      for (Optional<Arrival> next = stream.next(); next.isPresent(); next = stream.next()) {
        arrivals.add(next.get());
      }
    }
    return arrivals;
  }

  private static Trace trace(Shelf shelf, String name, Rig rig) throws IOException {
    Trace.Builder trace = new Trace.Builder();
    Place otherwise = rig == Rig.SERVER ? Place.SERVER : Place.WHOLE;
    try (InputStream in = new BufferedInputStream(shelf.open(name, MOST_TRACE_BYTES))) {
      TraceCsv.scan(in, title(shelf, name), otherwise, trace);
    }
    return trace.build();
  }

  private static List<Judgement> judgements(Shelf shelf, String name) throws IOException {
    byte[] text = bytes(shelf, name, MOST_JUDGEMENT_BYTES);
    try {
      List<Judgement> judgements = new ArrayList<>();
      for (JsonNode one : MAPPER.readTree(text)) {
        judgements.add(JudgementJson.read(one.toString()));
      }
      return judgements;
    } catch (JsonProcessingException | IllegalArgumentException broken) {
      throw new RefusedImport(
          title(shelf, name) + ": is not what this program writes (" + broken.getMessage() + ")",
          broken);
    }
  }

  private static byte[] bytes(Shelf shelf, String name, long most) throws IOException {
    try (InputStream in = shelf.open(name, most)) {
      return in.readAllBytes();
    }
  }

  private static String title(Shelf shelf, String name) {
    return shelf.title() + "/" + name;
  }
}
