package pourwright.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.units.SessionTime;

class RawStreamTest {
  private static RawStreamReader reader(String text) throws IOException {
    return RawStreamReader.of(
        new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8)), "wire.stream");
  }

  private static List<Arrival> all(RawStreamReader reader) throws IOException {
    List<Arrival> all = new ArrayList<>();
    for (Optional<Arrival> next = reader.next(); next.isPresent(); next = reader.next()) {
      all.add(next.get());
    }
    return all;
  }

  private static Arrival received(long millis, String ascii) {
    return new Arrival.Received(new Chunk(SessionTime.ofMillis(millis), Bytes.ofAscii(ascii)));
  }

  @Test
  void headers_comments_and_bytes_are_told_apart() throws IOException {
    RawStreamReader reader =
        reader(
            """
            \uFEFF#profile: bare-number
            # a comment
            #note: two: colons

            0.5 310d0A
            #note: too late
            # 1.0 nothing
            1.25\t32 0d 0a
            """
                .replace("\n", "\r\n"));
    assertThat(reader.headers())
        .containsExactly(Map.entry("profile", "bare-number"), Map.entry("note", "two: colons"));
    assertThat(reader.findHeader("rig")).isEmpty();
    assertThat(all(reader)).containsExactly(received(500, "1\r\n"), received(1250, "2\r\n"));
    assertThat(reader.notes()).isEmpty();
  }

  @Test
  void what_was_written_is_read_again_with_its_losses(@TempDir Path folder) throws IOException {
    Path file = folder.resolve("wire.stream");
    Map<String, String> headers = new LinkedHashMap<>();
    headers.put("profile", "number-unit");
    headers.put("note", "made\nin two lines");
    SessionTime odd = SessionTime.ofNanos(1_234_567_891L);
    try (RawStreamWriter writer = RawStreamWriter.begin(AppendFile.create(file), headers)) {
      writer.add(new Chunk(odd, Bytes.ofAscii("12.5 g\r\n")));
      writer.lost(odd, "the cable was pulled");
      writer.restored(SessionTime.ofMillis(2000));
      writer.add(new Chunk(SessionTime.ofMillis(2000), Bytes.ofAscii("13")));
    }
    try (RawStreamReader reader = RawStreamReader.open(file)) {
      assertThat(reader.findHeader("note")).contains("made in two lines");
      assertThat(all(reader))
          .containsExactly(
              new Arrival.Received(new Chunk(odd, Bytes.ofAscii("12.5 g\r\n"))),
              new Arrival.Lost(odd, "the cable was pulled"),
              new Arrival.Restored(SessionTime.ofMillis(2000)),
              received(2000, "13"));
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"1.5 3", "1.5", "1", "1.5 ", "\0\0\0", "1.5 31g"})
  void last_line_that_was_cut_off_is_left_out_and_noted(String tail) throws IOException {
    RawStreamReader reader = reader("#profile: x\n0.5 31\n" + tail);
    assertThat(all(reader)).containsExactly(received(500, "1"));
    assertThat(reader.notes()).singleElement().asString().contains("line 3", "cut off");
  }

  @Test
  void bad_lines_are_named_with_what_would_be_right(@TempDir Path folder) {
    assertThatThrownBy(() -> reader("")).hasMessageContaining("wire.stream: is empty");
    assertThatThrownBy(() -> all(reader("0.5 31\n0.6 3g\n0.7 31\n")))
        .isInstanceOf(BadRecording.class)
        .hasMessageContainingAll("line 2", "hexadecimal");
    assertThatThrownBy(() -> all(reader("0.5 31\n0.6\n0.7 31\n")))
        .hasMessageContainingAll("line 2", "no bytes");
    assertThatThrownBy(() -> all(reader("time_s,mass_g\n0,1\n")))
        .hasMessageContainingAll("line 1", "seconds");
    assertThatThrownBy(() -> all(reader("0.5 31\n0.4 31\n")))
        .hasMessageContainingAll("line 2", "goes back", "0.5 s");
    assertThatThrownBy(() -> RawStreamReader.open(folder.resolve("no.stream")))
        .isInstanceOf(BadRecording.class)
        .hasMessageContaining("no such file");
  }
}
