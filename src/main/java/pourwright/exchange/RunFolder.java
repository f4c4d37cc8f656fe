package pourwright.exchange;

import com.fasterxml.jackson.core.JsonEncoding;
import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import pourwright.device.Transport.Arrival;
import pourwright.journal.Judgement;
import pourwright.journal.JudgementJson;
import pourwright.journal.WholeRun;
import pourwright.record.ResultJson;
import pourwright.recording.AppendFile;
import pourwright.recording.RawStreamWriter;
import pourwright.recording.Trace;
import pourwright.recording.TraceWriter;
import pourwright.rig.Place;
import pourwright.session.RunStart;

/**
 * A run as files that other programs can read, in a folder of its own:
 *
 * <ul>
 *   <li>{@code run.json}: when, which program, brewer, rig, scales, feedback, and what the brewer
 *       added: strength, tastings, estimates, when the bed was seen dry, note;
 *   <li>{@code plan.yaml}: the plan as it was;
 *   <li>{@code whole.stream}, {@code server.stream}: what came over the wire of each scale;
 *   <li>{@code trace.csv}: what it meant;
 *   <li>{@code result.json}: what was found, as {@code analyse} prints it;
 *   <li>{@code judgements.json}: everything that any detector made of it, to the last digit, for
 *       {@code runs import}.
 * </ul>
 */
public final class RunFolder {
  static final String RUN = "run.json";
  static final String PLAN = "plan.yaml";
  static final String TRACE = "trace.csv";
  static final String RESULT = "result.json";
  static final String JUDGEMENTS = "judgements.json";
  static final String STREAM_END = ".stream";

  private static final JsonFactory JSON = new JsonFactory();

  private RunFolder() {}

  /**
   * Writes all of it.
   *
   * @param folder must not exist yet; may be within a zip
   */
  public static void write(WholeRun run, Path folder) throws IOException {
    Files.createDirectory(folder);
    write(folder.resolve(RUN), RunJson.write(run));
    if (run.run().plan().isPresent()) {
      write(folder.resolve(PLAN), run.run().plan().get().text().getBytes(StandardCharsets.UTF_8));
    }
    for (RunStart.HeardScale scale : run.run().scales()) {
      List<Arrival> wire = run.wires().getOrDefault(scale.stand().place(), List.of());
      if (!wire.isEmpty()) {
        writeStream(run, scale, wire, folder);
      }
    }
    if (run.trace().size() > 0) {
      writeTrace(run.trace(), folder.resolve(TRACE));
    }
    if (!run.judgements().isEmpty()) {
      Judgement last = run.judgements().get(run.judgements().size() - 1);
      write(folder.resolve(RESULT), result(last));
      write(folder.resolve(JUDGEMENTS), judgements(run.judgements()));
    }
  }

  private static void writeStream(
      WholeRun run, RunStart.HeardScale scale, List<Arrival> wire, Path folder) throws IOException {
    String place = scale.stand().place().word();
    Map<String, String> headers = new LinkedHashMap<>();
    headers.put("profile", scale.profile());
    headers.put("rig", run.run().entry().rig().word());
    headers.put("place", place);
    headers.put("note", "from " + scale.address());
    AppendFile file = AppendFile.create(folder.resolve(place + STREAM_END));
    try (RawStreamWriter stream = RawStreamWriter.begin(file, headers)) {
      for (Arrival arrival : wire) {
        if (arrival instanceof Arrival.Received received) {
          stream.add(received.chunk());
        } else if (arrival instanceof Arrival.Lost lost) {
          stream.lost(lost.at(), lost.why());
        } else if (arrival instanceof Arrival.Restored restored) {
          stream.restored(restored.at());
        }
      }
    }
  }

  private static void writeTrace(Trace trace, Path path) throws IOException {
    Set<Place> places = trace.places();
    try (TraceWriter out = TraceWriter.begin(AppendFile.create(path), places)) {
      for (int i = 0; i < trace.size(); i++) {
        out.add(trace.readingAt(i), trace.placeAt(i));
      }
    }
  }

  private static byte[] result(Judgement judgement) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (JsonGenerator json = JSON.createGenerator(bytes, JsonEncoding.UTF8)) {
      json.useDefaultPrettyPrinter();
      json.writeStartObject();
      ResultJson.writeMembers(json, judgement.findings(), judgement.comparison(), List.of());
      json.writeNumberField("detector", judgement.detector());
      json.writeEndObject();
    }
    return bytes.toByteArray();
  }

  private static byte[] judgements(List<Judgement> judgements) {
    return judgements.stream()
        .map(JudgementJson::write)
        .collect(Collectors.joining(",\n", "[\n", "\n]\n"))
        .getBytes(StandardCharsets.UTF_8);
  }

  private static void write(Path path, byte[] bytes) throws IOException {
    Files.write(path, bytes, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
  }
}
