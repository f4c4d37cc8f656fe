package pourwright.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import pourwright.journal.JournalFile;
import pourwright.journal.KeptRun;
import pourwright.journal.Recording;
import pourwright.journal.RunEntry;
import pourwright.journal.WholeRun;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.Played;
import pourwright.session.Rehearsal;

@Timeout(60)
class RunsCommandTest {
  @TempDir
  @SuppressWarnings("NullAway.Init")
  private static Path once;

  private static Path kept = Path.of("");

  private final Path folder;
  private final Path data;

  RunsCommandTest(@TempDir Path folder) {
    this.folder = folder;
    this.data = folder.resolve("data");
  }

  /** Two runs, made once. */
  @BeforeAll
  static void rehearse() throws Exception {
    kept = once.resolve("kept.sqlite");
    try (JournalFile journal = JournalFile.open(once.resolve("data"), note -> {})) {
      for (int i = 0; i < 2; i++) {
        Recording recording = journal.record();
        new Rehearsal(
                Played.setup(
                    List.of(Rig.WHOLE),
                    List.of(Played.scale(1, Place.WHOLE, Played.weights(60, Played::twoPours)))),
                List.of(recording),
                List.of())
            .run();
      }
      journal.backUp(kept);
    }
  }

  @BeforeEach
  void copy() throws IOException {
    Files.createDirectory(data);
    Files.copy(kept, data.resolve("journal.sqlite"));
  }

  private Ran runs(String... args) {
    String[] all = new String[args.length + 3];
    all[0] = "runs";
    System.arraycopy(args, 0, all, 1, args.length);
    all[args.length + 1] = "--data";
    all[args.length + 2] = data.toString();
    return Ran.pourwright(all);
  }

  private Ran done(String... args) {
    Ran ran = runs(args);
    assertThat(ran.status()).as(ran.err()).isZero();
    return ran;
  }

  private JsonNode json(String... args) throws IOException {
    return new ObjectMapper().readTree(done(args).out());
  }

  @Test
  void runs_are_listed_the_newest_first() throws IOException {
    String text = done("list").out();
    assertThat(text.lines()).hasSize(3);
    assertThat(text.lines().toList().get(1))
        .startsWith("    2  ")
        .contains("Two pours", "full", "2 of 2");
    assertThat(done("list", "--limit", "1").err()).contains("there are more");
    assertThat(done("list", "--search", "two P").out().lines()).hasSize(3);
    assertThat(done("list", "--search", "three").err()).contains("no runs");
    assertThat(done("list", "--from", "2026-03-02").err()).contains("no runs");
    JsonNode first = json("list", "--to", "2026-03-01", "--format", "json").at("/runs/0");
    assertThat(first.path("run").asInt()).isEqualTo(2);
    assertThat(first.path("inside").asInt()).isEqualTo(2);
    assertThat(Instant.parse(first.path("started_at").asText()))
        .isEqualTo(Instant.parse("2026-03-01T10:00:00Z"));
  }

  @Test
  void a_note_that_looks_like_a_formula_is_text_in_the_table() {
    done("note", "1", "=HYPERLINK(\"x\")", "finer");
    assertThat(done("list", "--format", "csv").out().lines().toList().get(2))
        .startsWith("1,2026-03-01T10:00:00Z,Two pours,brewer 1,whole,full,0,0,lifted,")
        .endsWith(",\"'=HYPERLINK(\"\"x\"\") finer\"");
  }

  @Test
  void one_run_is_shown_with_all_that_was_added_to_it() throws IOException {
    done("strength", "1", "1.36", "1.38", "--uncertainty", "0.02", "--instrument", "own");
    done("taste", "1", "acidity=7.5", "Body=6", "--taster", "Ada", "--note", "bright");
    done("note", "1", "finer", "next", "time");
    done("void", "1");

    assertThat(done("show", "1").out())
        .contains(
            "Two pours by brewer 1, void",
            "ended by the lift",
            "Deviation index",
            "Strength 1.38 ± 0.020 % (own).",
            "Tasted by Ada: acidity 7.50, body 6.00. bright",
            "Note: finer next time");
    JsonNode shown = json("show", "1", "--format", "json");
    assertThat(shown.path("void").asBoolean()).isTrue();
    assertThat(shown.path("strength_percent").asDouble()).isEqualTo(1.37);
    assertThat(shown.at("/result/pours")).hasSize(2);
    done("void", "1", "--undo");
    assertThat(json("show", "1", "--format", "json").path("void").asBoolean()).isFalse();
  }

  @Test
  void deleting_is_undone() {
    assertThat(done("delete", "2").err()).contains("runs restore 2");
    assertThat(done("list").out().lines()).hasSize(2);
    assertThat(done("list", "--deleted").out().lines().toList().get(1)).startsWith("    2  ");
    done("restore", "2");
    assertThat(done("list").out().lines()).hasSize(3);
  }

  @Test
  void an_export_goes_into_another_journal_and_can_be_analysed() throws IOException {
    Path zip = folder.resolve("all.zip");
    assertThat(done("export", "--all", "--to", zip.toString()).err()).contains("2 runs");
    assertThat(done("import", zip.toString()).err())
        .contains("0 runs are new", "2 runs are in the journal already");
    Path files = folder.resolve("files");
    done("export", "1", "--to", files.toString());
    Path run;
    try (var runs = Files.list(files)) {
      run = runs.findFirst().orElseThrow();
    }
    assertThat(run.getFileName().toString()).matches("run-0001_2026-03-01_.*_two-pours");
    Ran again =
        Ran.pourwright(
            "analyse",
            run.resolve("trace.csv").toString(),
            "--plan",
            run.resolve("plan.yaml").toString(),
            "--format=json");
    JsonNode result = new ObjectMapper().readTree(run.resolve("result.json").toFile());
    assertThat(new ObjectMapper().readTree(again.out()).path("pours"))
        .isEqualTo(result.path("pours"));
  }

  @Test
  void any_csv_is_a_run_once_its_columns_are_named() throws IOException {
    StringBuilder csv = new StringBuilder("Zeit;Gewicht\n");
    for (int i = 0; i <= 600; i++) {
      csv.append(i * 100)
          .append(';')
          .append(String.format(Locale.GERMANY, "%.1f", Played.twoPours(i / 10.0)))
          .append('\n');
    }
    Path file = Files.writeString(folder.resolve("other.csv"), csv);
    Ran ran =
        done(
            "import",
            file.toString(),
            "--time-column",
            "zeit",
            "--mass-column",
            "2",
            "--time-unit",
            "ms");
    assertThat(ran.err()).contains("kept as run 3 (601 weights)");
    assertThat(json("show", "3", "--format", "json").at("/result/pours")).hasSize(2);

    Ran unmapped = runs("import", file.toString());
    assertThat(unmapped.status()).isEqualTo(1);
    assertThat(unmapped.err())
        .contains("has no column “time_s”; its columns are Zeit, Gewicht")
        .hasLineCount(1);
  }

  @Test
  void a_backup_is_a_journal_and_never_replaces_a_file() throws IOException {
    Path elsewhere = Files.createDirectory(folder.resolve("copy"));
    Path copy = elsewhere.resolve("journal.sqlite");
    done("backup", copy.toString());
    Ran listed = Ran.pourwright("runs", "list", "--data", elsewhere.toString());
    assertThat(listed.out().lines()).hasSize(3);
    Ran again = runs("backup", copy.toString());
    assertThat(again.status()).isEqualTo(1);
    assertThat(again.err()).contains("exists already").hasLineCount(1);
    assertThat(runs("backup", folder.resolve("no/such.sqlite").toString()).err())
        .contains("there is no such folder");
  }

  @Test
  void runs_are_looked_through_anew_and_the_journal_is_sound() {
    assertThat(done("reanalyse").out()).startsWith("0 runs looked through");
    assertThat(done("reanalyse", "1", "2").out()).contains("2 runs looked through with detector");
    assertThat(done("check").out()).startsWith("sound: ");
  }

  @Test
  void wrong_use_is_told_as_such() {
    assertThat(runs("list", "--from", "yesterday").status()).isEqualTo(2);
    assertThat(runs("strength", "1", "138").status()).isEqualTo(2);
    assertThat(runs("taste", "1", "sourness=3").err()).contains("no item called 'sourness'");
    assertThat(runs("taste", "1", "body=11").err()).contains("0 to 10");
    assertThat(runs("export", "--to", folder.resolve("x.zip").toString()).status()).isEqualTo(2);
    assertThat(runs("import", "x.csv", "--rig", "split").status()).isEqualTo(2);
    Ran none = runs("show", "99");
    assertThat(none.status()).isEqualTo(1);
    assertThat(none.err()).contains("there is no run 99").hasLineCount(1);
  }

  @Test
  void a_damaged_journal_is_set_aside_with_a_word() throws IOException {
    Path file = data.resolve("journal.sqlite");
    byte[] noise = "no journal at all".repeat(300).getBytes(StandardCharsets.UTF_8);
    Files.write(file, noise);
    Ran ran = runs("list");
    assertThat(ran.status()).isZero();
    assertThat(ran.err()).contains("is damaged; it is kept as journal-damaged-", "no runs");
    try (var files = Files.list(data)) {
      assertThat(files.filter(path -> path.getFileName().toString().startsWith("journal-damaged")))
          .singleElement()
          .satisfies(path -> assertThat(path).hasBinaryContent(noise));
    }
  }

  @Test
  void a_season_is_refused_where_own_runs_are() {
    Ran ran = Ran.pourwright("demo", "--season", "--data", data.toString());
    assertThat(ran.status()).isEqualTo(1);
    assertThat(ran.err()).contains("holds runs of your own").hasLineCount(1);
    assertThat(done("list").out().lines()).hasSize(3);
  }

  @Test
  void a_backup_can_be_taken_over() {
    Path other = folder.resolve("other");
    Ran ran = Ran.pourwright("runs", "import", kept.toString(), "--data", other.toString());
    assertThat(ran.status()).isZero();
    assertThat(ran.err()).contains("2 runs are new");
    assertThat(Ran.pourwright("runs", "list", "--data", other.toString()).out().lines()).hasSize(3);
  }

  @Test
  void a_clock_that_was_set_back_is_told_and_the_run_is_kept_as_the_newest() throws IOException {
    try (JournalFile journal = JournalFile.open(data, note -> {})) {
      WholeRun run = journal.findWhole(1).orElseThrow();
      KeptRun later = run.run();
      RunEntry entry = later.entry();
      journal.add(
          new WholeRun(
              "of-tomorrow",
              1,
              0,
              new KeptRun(
                  new RunEntry(
                      0,
                      Instant.now().plusSeconds(86_400),
                      entry.brewer(),
                      entry.title(),
                      entry.rig(),
                      entry.feedback(),
                      false,
                      false,
                      false,
                      entry.state(),
                      entry.length(),
                      0,
                      entry.planned(),
                      entry.inside(),
                      entry.deviationIndex(),
                      entry.strengthPercent(),
                      false,
                      ""),
                  later.program(),
                  later.plan(),
                  later.scales(),
                  later.judgement(),
                  List.of(),
                  List.of(),
                  Map.of(),
                  List.of()),
              run.judgements(),
              run.wires(),
              run.trace()));
    }
    Ran ran =
        Ran.pourwright("demo", "--speed", "0", "--no-page", "--lines", "--data", data.toString());
    assertThat(ran.status()).as(ran.err()).isZero();
    assertThat(ran.err()).contains("the clock of this computer stands before the last run");
    assertThat(ran.err()).contains("kept as run 4");
    assertThat(done("list").out().lines().toList().get(1)).startsWith("    4  ");
  }
}
