package pourwright.exchange;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.detect.Analysis;
import pourwright.detect.DetectorSettings;
import pourwright.journal.Analyst;
import pourwright.journal.JournalFile;
import pourwright.journal.Judgement;
import pourwright.journal.Recording;
import pourwright.journal.RunFilter;
import pourwright.journal.StrengthReading;
import pourwright.journal.TasteItem;
import pourwright.journal.Tasting;
import pourwright.journal.WholeRun;
import pourwright.recording.Trace;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.Command;
import pourwright.session.Played;
import pourwright.session.Rehearsal;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

@Timeout(60)
class RunArchiveTest {
  private static final Analyst ANALYST =
      (rig, plan, scales, curves) ->
          new Analyst.Found(
              Analysis.of(rig, DetectorSettings.standard(), curves), Optional.empty());

  private final Path folder;
  private final JournalFile here;
  private final JournalFile there;

  RunArchiveTest(@TempDir Path folder) throws IOException {
    this.folder = folder;
    this.here = JournalFile.open(folder.resolve("here"), note -> {});
    this.there = JournalFile.open(folder.resolve("there"), note -> {});
  }

  @AfterEach
  void close() {
    here.close();
    there.close();
  }

  /** A run with everything that a run can have. */
  private long fullRun() throws Exception {
    Recording recording = here.record();
    recording.command(SessionTime.ofMicros(31_234_567), new Command.MarkDrained(1));
    new Rehearsal(
            Played.setup(
                List.of(Rig.SPLIT),
                List.of(
                    Played.scale(1, Place.WHOLE, Played.weights(60, Played::twoPours)),
                    Played.scale(
                        1, Place.SERVER, Played.weights(60, at -> Played.twoPours(at - 2) * 0.8)))),
            List.of(recording),
            List.of())
        .run();
    long id = Optional.ofNullable(recording.runs().get(1)).orElseThrow();
    Instant at = Instant.parse("2026-03-01T11:00:00Z");
    here.addStrength(id, new StrengthReading(0, at, 1.37, OptionalDouble.of(0.02), "own"));
    here.addStrength(id, new StrengthReading(0, at, 1.39, OptionalDouble.empty(), ""));
    here.addTasting(
        id, new Tasting(0, at, "Ada", Map.of(TasteItem.AROMA, 7.25, TasteItem.OVERALL, 8.0), "=1"));
    here.note(id, "“finer” next time\nand <slower>");
    here.estimate(id, 1, Mass.ofNanograms(41_234_567_891L));
    here.setVoid(id, true);
    here.judgeAnew(id, ANALYST);
    assertThat(here.findRun(id).orElseThrow().seenDry())
        .containsExactly(SessionTime.ofMicros(31_234_567));
    return id;
  }

  private static void assertSame(WholeRun one, WholeRun other) {
    assertThat(other.key()).isEqualTo(one.key());
    assertThat(other.lane()).isEqualTo(one.lane());
    assertThat(other.judgements()).isEqualTo(one.judgements());
    assertThat(other.wires()).isEqualTo(one.wires());
    assertThat(texts(other.trace())).isEqualTo(texts(one.trace()));
    assertThat(other.run())
        .usingRecursiveComparison()
        .ignoringFields("entry.id", "strengths.id", "tastings.id")
        .isEqualTo(one.run());
  }

  private static List<String> texts(Trace trace) {
    return Stream.iterate(0, i -> i < trace.size(), i -> i + 1)
        .map(i -> trace.readingAt(i) + " " + trace.placeAt(i))
        .toList();
  }

  @ParameterizedTest
  @ValueSource(strings = {"runs.zip", "runs"})
  void a_run_arrives_in_another_journal_with_everything_that_belongs_to_it(String target)
      throws Exception {
    long id = fullRun();
    new RunArchive(here).exportTo(folder.resolve(target), List.of(id));
    RunArchive.Imported imported =
        new RunArchive(there).importFrom(folder.resolve(target), ANALYST);

    assertThat(imported.refused()).isEmpty();
    assertThat(imported.added()).hasSize(1);
    assertSame(
        here.findWhole(id).orElseThrow(), there.findWhole(imported.added().get(0)).orElseThrow());
    assertThat(there.check()).isEmpty();
  }

  @Test
  void what_is_there_already_is_left_as_it_is() throws Exception {
    long id = fullRun();
    Path zip = folder.resolve("runs.zip");
    new RunArchive(here).exportTo(zip, List.of(id));
    here.note(id, "changed since");
    RunArchive.Imported again = new RunArchive(here).importFrom(zip, ANALYST);

    assertThat(again.added()).isEmpty();
    assertThat(again.known()).isEqualTo(1);
    assertThat(here.findRun(id).orElseThrow().entry().note()).isEqualTo("changed since");
  }

  @Test
  void weights_that_come_without_a_judgement_are_judged() throws Exception {
    long id = fullRun();
    Path exported = folder.resolve("runs");
    new RunArchive(here).exportTo(exported, List.of(id));
    try (Stream<Path> files = Files.walk(exported)) {
      Files.delete(
          files.filter(file -> file.endsWith("judgements.json")).findFirst().orElseThrow());
    }
    RunArchive.Imported imported = new RunArchive(there).importFrom(exported, ANALYST);

    List<Judgement> judged = there.listJudgements(imported.added().get(0));
    assertThat(judged).hasSize(1);
    assertThat(judged.get(0).findings())
        .isEqualTo(here.findRun(id).orElseThrow().judgement().orElseThrow().findings());
  }

  @Test
  void an_export_never_replaces_anything_and_leaves_nothing_half_done() throws Exception {
    long id = fullRun();
    Path target = Files.writeString(folder.resolve("runs.zip"), "something else");
    assertThatThrownBy(() -> new RunArchive(here).exportTo(target, List.of(id)))
        .hasMessageContaining("exists already");
    assertThat(target).hasContent("something else");
    assertThatThrownBy(
            () -> new RunArchive(here).exportTo(folder.resolve("new.zip"), List.of(id, 99L)))
        .hasMessageContaining("there is no run 99");
    assertThatThrownBy(
            () -> new RunArchive(here).exportTo(folder.resolve("no/such/new.zip"), List.of(id)))
        .hasMessageContaining("there is no such folder");
    try (Stream<Path> files = Files.list(folder)) {
      assertThat(files.map(file -> file.getFileName().toString()))
          .containsExactlyInAnyOrder("here", "there", "runs.zip");
    }
  }

  // ---- zips that nobody should trust

  private interface Content {
    void writeTo(OutputStream out) throws IOException;
  }

  private Path zip(Map<String, Content> files) throws IOException {
    Path path = folder.resolve("made.zip");
    try (ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(path))) {
      for (Map.Entry<String, Content> file : files.entrySet()) {
        zip.putNextEntry(new ZipEntry(file.getKey()));
        file.getValue().writeTo(zip);
        zip.closeEntry();
      }
    }
    return path;
  }

  private static Content text(String text) {
    return out -> out.write(text.getBytes(StandardCharsets.UTF_8));
  }

  private void assertNothingCame() throws IOException {
    assertThat(there.listRuns(RunFilter.all())).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "../run.json",
        "a/../../run.json",
        "/etc/run.json",
        "..",
        "a\\..\\run.json",
        "C:/run.json",
        "a/b/../run.json"
      })
  void a_zip_that_names_files_outside_of_itself_is_refused(String name) throws Exception {
    Path zip = zip(Map.of(name, text("{}"), "run/run.json", text("{}")));
    assertThatThrownBy(() -> new RunArchive(there).importFrom(zip, ANALYST))
        .isInstanceOf(RefusedImport.class)
        .hasMessageContaining("outside of itself")
        .hasMessageContaining("nothing was imported");
    assertNothingCame();
  }

  @ParameterizedTest
  @ValueSource(strings = {"run/run.json", "run/trace.csv", "run/whole.stream", "run/plan.yaml"})
  void a_bomb_is_refused_long_before_it_has_grown(String bomb) throws Exception {
    long id = fullRun();
    Path exported = folder.resolve("good");
    new RunArchive(here).exportTo(exported, List.of(id));
    Path run;
    try (Stream<Path> runs = Files.list(exported)) {
      run = runs.findFirst().orElseThrow();
    }
    byte[] line =
        "0.0,0.0000000000000000000000,whole,\n".repeat(1_000).getBytes(StandardCharsets.UTF_8);
    Map<String, Content> files = new LinkedHashMap<>();
    for (String name : List.of("run.json", "trace.csv", "whole.stream", "plan.yaml")) {
      byte[] good = Files.readAllBytes(run.resolve(name));
      files.put("run/" + name, out -> out.write(good));
    }
    files.put(
        bomb,
        out -> {
          out.write("time_s,mass_g,scale,stable\n".getBytes(StandardCharsets.UTF_8));
          for (int i = 0; i < 1_000; i++) {
            out.write(line);
          }
        });
    RunArchive.Imported imported = new RunArchive(there).importFrom(zip(files), ANALYST);

    assertThat(imported.refused()).singleElement().asString().contains("made.zip");
    if (!bomb.endsWith("stream")) { // its first line is no stream, which is seen before
      assertThat(imported.refused().get(0)).contains("grows beyond what weights can");
    }
    assertNothingCame();
  }

  @Test
  void a_zip_without_a_run_one_that_is_cut_off_and_one_that_is_missing_are_named()
      throws Exception {
    Path none = zip(Map.of("a/readme.txt", text("hello")));
    assertThatThrownBy(() -> new RunArchive(there).importFrom(none, ANALYST))
        .isInstanceOf(RefusedImport.class)
        .hasMessageContaining("holds no run");
    byte[] whole = Files.readAllBytes(none);
    Path cut = Files.write(folder.resolve("cut.zip"), Arrays.copyOf(whole, whole.length / 2));
    assertThatThrownBy(() -> new RunArchive(there).importFrom(cut, ANALYST))
        .isInstanceOf(RefusedImport.class)
        .hasMessageContaining("no zip");
    assertThatThrownBy(() -> new RunArchive(there).importFrom(folder.resolve("no.zip"), ANALYST))
        .isInstanceOf(RefusedImport.class)
        .hasMessageContaining("no such file");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "{",
        "{\"format\": 7}",
        "{\"format\": 1}",
        "{\"format\": 1, \"rehearsal\": \"x\", \"recorded_at\": \"yesterday\"}",
        "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]"
      })
  void a_run_that_cannot_be_read_is_left_out_and_named(String json) throws Exception {
    Path zip = zip(Map.of("odd/run.json", text(json)));
    RunArchive.Imported imported = new RunArchive(there).importFrom(zip, ANALYST);
    assertThat(imported.added()).isEmpty();
    assertThat(imported.refused()).singleElement().asString().contains("odd/run.json: ");
    assertNothingCame();
  }
}
