package pourwright.history;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import pourwright.check.CheckRecord;
import pourwright.check.Figure;
import pourwright.performance.Estimate;

class ScaleHistoryTest {
  private final Path folder;
  private final ScaleHistory history;

  ScaleHistoryTest(@TempDir Path folder) {
    this.folder = folder.resolve("scales");
    this.history = new ScaleHistory(this.folder);
  }

  private static CheckRecord check(String scale, String at) {
    return new CheckRecord(
        Instant.parse(at),
        scale,
        "pourwright 1",
        "usual",
        List.of("the 200 g weight (class M1, ±10 mg)"),
        true,
        1,
        2,
        List.of(
            new Figure("lag_s", "lag in all", "s", new Estimate(0.25, 0.01, 0.23, 0.27), "beat")),
        List.of("a note: ü"));
  }

  @Test
  void a_check_is_read_back_as_it_was_kept() throws IOException {
    CheckRecord kept = check("serial:/dev/ttyUSB0?profile=number-unit", "2026-03-01T08:00:00.5Z");
    Path file = history.keep(kept);
    assertThat(file.getFileName()).hasToString("2026-03-01T08-00-00Z.json");
    assertThat(history.list(kept.scale())).containsExactly(kept);
    assertThat(history.findLast(kept.scale())).hasValue(kept);
    assertThat(history.findLast("serial:/dev/ttyUSB1?profile=number-unit")).isEmpty();
  }

  @Test
  void checks_come_oldest_first_and_none_overwrites_another() throws IOException {
    CheckRecord later = check("sim:a?profile=x", "2026-03-02T08:00:00Z");
    CheckRecord earlier = check("sim:a?profile=x", "2026-03-01T08:00:00Z");
    history.keep(later);
    history.keep(earlier);
    assertThat(history.keep(earlier)).hasFileName("2026-03-01T08-00-00Z-2.json");
    assertThat(history.list("sim:a?profile=x")).hasSize(3).last().isEqualTo(later);
    CheckRecord other = check("sim:b?profile=x", "2026-03-03T08:00:00Z");
    history.keep(other);
    assertThat(history.listLast()).containsExactly(other, later);
  }

  @Test
  void names_that_look_alike_as_folders_are_kept_apart() throws IOException {
    history.keep(check("sim:a-b?profile=x", "2026-03-01T08:00:00Z"));
    assertThat(history.list("sim:a_b?profile=x")).isEmpty();
    assertThat(ScaleHistory.nameOf("serial:/dev/ttyS0?profile=y&baud=9600", "y"))
        .isEqualTo("serial:/dev/ttyS0?profile=y");
    assertThat(ScaleHistory.nameOf("ble:", "y")).isEqualTo("ble:?profile=y");
  }

  @Test
  void a_spoilt_file_is_left_out_and_the_rest_is_read() throws IOException {
    CheckRecord good = check("sim:a?profile=x", "2026-03-01T08:00:00Z");
    Path own = Objects.requireNonNull(history.keep(good).getParent());
    Files.writeString(
        own.resolve("2026-03-04T08-00-00Z.json"), "{\"format\": 1, \"at\": \"never\"}");
    Files.writeString(own.resolve("2026-03-05T08-00-00Z.json"), "{\"format\": 9}");
    Files.writeString(own.resolve("2026-03-06T08-00-00Z.json"), "{ cut sho");
    Files.writeString(
        own.resolve("2026-03-07T08-00-00Z.json"),
        "{\"format\": 1, \"at\": \"2026-03-07T08:00:00Z\", \"figures\": [{\"key\": \"lag_s\"}]}");
    assertThat(history.list("sim:a?profile=x")).containsExactly(good);
    assertThat(new ScaleHistory(own.resolve("none")).listLast()).isEmpty();
  }

  @Test
  void a_folder_that_cannot_be_written_is_named() throws IOException {
    Path blocked = Files.writeString(folder.resolveSibling("file"), "in the way");
    assertThatThrownBy(
            () ->
                new ScaleHistory(blocked.resolve("scales"))
                    .keep(check("sim:a", "2026-03-01T08:00:00Z")))
        .isInstanceOf(IOException.class)
        .hasMessageContaining(blocked.toString())
        .hasMessageContaining("--data");
  }
}
