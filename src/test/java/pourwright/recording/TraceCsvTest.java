package pourwright.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumSet;
import java.util.Set;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.recording.TraceCsv.ReadTrace;
import pourwright.rig.Place;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class TraceCsvTest {
  private static ReadTrace read(String text) throws IOException {
    return TraceCsv.read(
        new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8)), "brew.csv", Place.WHOLE);
  }

  private static <T> T any(SplittableRandom random, T[] values) {
    return values[random.nextInt(values.length)];
  }

  private static void assertRefused(String text, String... words) {
    assertThatThrownBy(() -> read(text))
        .isInstanceOf(BadRecording.class)
        .message()
        .startsWith("brew.csv")
        .contains(words)
        .doesNotContain("\n");
  }

  @Test
  void weights_are_exact() throws IOException {
    Trace trace = read("time_s,mass_g\n0,0\n0.1,-12.345678901\n0.30,1e1\n").trace();
    assertThat(trace.size()).isEqualTo(3);
    assertThat(trace.readingAt(1))
        .isEqualTo(new Reading(SessionTime.ofMillis(100), Mass.ofNanograms(-12_345_678_901L)));
    assertThat(trace.nanosAt(2)).isEqualTo(300_000_000L);
    assertThat(trace.nanogramsAt(2)).isEqualTo(10_000_000_000L);
  }

  @Test
  void columns_stand_in_any_order_and_others_are_named_as_ignored() throws IOException {
    ReadTrace read =
        read(
            "\uFEFFstable,note,scale,mass_g,time_s\r\n1,\"a, \"\"b\"\"\r\nc\",server,5,1\r\n,x,whole,6,1\r\n0,,whole,7,2\r\n");
    assertThat(read.namesPlaces()).isTrue();
    assertThat(read.notes()).singleElement().asString().contains("ignored note");
    Trace trace = read.trace();
    assertThat(trace.places()).isEqualTo(EnumSet.allOf(Place.class));
    assertThat(trace.placeAt(0)).isEqualTo(Place.SERVER);
    assertThat(trace.stabilityAt(0)).isEqualTo(Stability.STABLE);
    assertThat(trace.stabilityAt(1)).isEqualTo(Stability.UNSTATED);
    assertThat(trace.stabilityAt(2)).isEqualTo(Stability.MOVING);
    Trace whole = trace.only(Place.WHOLE);
    assertThat(whole.size()).isEqualTo(2);
    assertThat(whole.nanogramsAt(1)).isEqualTo(7_000_000_000L);
    assertThat(whole.only(Place.WHOLE)).isSameAs(whole);
  }

  @Test
  void without_a_scale_column_everything_was_weighed_at_the_place_the_caller_knows()
      throws IOException {
    ReadTrace read =
        TraceCsv.read(
            new ByteArrayInputStream("time_s,mass_g\n0,1\n".getBytes(StandardCharsets.UTF_8)),
            "-",
            Place.SERVER);
    assertThat(read.namesPlaces()).isFalse();
    assertThat(read.trace().places()).isEqualTo(Set.of(Place.SERVER));
  }

  @ParameterizedTest
  @ValueSource(strings = {"time_s,mass_g\r\n0,1\r\n1,2\r\n", "time_s,mass_g\r\n0,1\r\n1,2"})
  void last_end_of_line_is_optional(String text) throws IOException { // RFC 4180, 2.2
    assertThat(read(text).trace().size()).isEqualTo(2);
    assertThat(read(text).notes()).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(strings = {"0.2,1", "0.2,1.", "0.2", "0.", "\0\0\0", "0.2,1.5e"})
  void last_line_that_was_cut_off_is_left_out_and_noted(String tail) throws IOException {
    ReadTrace read = read("time_s,mass_g\n0.0,1.5\n0.1,1.5\n" + tail);
    assertThat(read.trace().size()).isEqualTo(2);
    assertThat(read.notes()).singleElement().asString().contains("line 4", "cut off");
  }

  @Test
  void cut_anywhere_a_trace_gives_only_weights_that_were_written(@TempDir Path folder)
      throws IOException {
    Path file = folder.resolve("run.csv");
    SplittableRandom random = new SplittableRandom(7);
    try (TraceWriter writer = TraceWriter.begin(AppendFile.create(file), Set.of(Place.WHOLE))) {
      for (int i = 0; i < 20; i++) {
        writer.add(
            new Reading(
                SessionTime.ofMillis(100L * i),
                Mass.ofMilligrams(random.nextLong(-500, 300_000)),
                Stability.STABLE),
            Place.WHOLE);
      }
    }
    byte[] whole = Files.readAllBytes(file);
    Trace written = TraceCsv.read(file, Place.WHOLE).trace();
    int firstRow = new String(whole, StandardCharsets.UTF_8).indexOf('\n') + 12;
    for (int cut = firstRow; cut < whole.length; cut++) {
      Trace kept =
          TraceCsv.read(new ByteArrayInputStream(whole, 0, cut), "run.csv", Place.WHOLE).trace();
      for (int i = 0; i < kept.size(); i++) {
        assertThat(kept.readingAt(i)).as("cut at byte %d", cut).isEqualTo(written.readingAt(i));
      }
    }
  }

  @Test
  void what_was_written_is_read_again(@TempDir Path folder) throws IOException {
    Path file = folder.resolve("split.csv");
    SplittableRandom random = new SplittableRandom(3);
    Trace.Builder expected = new Trace.Builder();
    try (TraceWriter writer =
        TraceWriter.begin(AppendFile.create(file), EnumSet.allOf(Place.class))) {
      long nanos = 0;
      for (int i = 0; i < 40_000; i++) {
        nanos += random.nextLong(0, 300_000_000L);
        Reading reading =
            new Reading(
                SessionTime.ofNanos(nanos),
                Mass.ofNanograms(random.nextLong(-1L << 50, 1L << 50)),
                any(random, Stability.values()));
        Place place = any(random, Place.values());
        expected.add(reading, place);
        writer.add(reading, place);
      }
    }
    Trace read = TraceCsv.read(file, Place.WHOLE).trace();
    Trace wanted = expected.build();
    assertThat(read.size()).isEqualTo(wanted.size());
    for (int i = 0; i < read.size(); i++) {
      assertThat(read.readingAt(i)).isEqualTo(wanted.readingAt(i));
      assertThat(read.placeAt(i)).isSameAs(wanted.placeAt(i));
    }
  }

  @Test
  void bad_lines_are_named_with_what_would_be_right() {
    assertRefused("", "is empty", "time_s,mass_g");
    assertRefused("\n\n", "is empty");
    assertRefused("time_s,mass_g\n", "no weights");
    assertRefused("time_s,mass_g", "no weights");
    assertRefused("0.0,1.5\n0.1,1.6\n", "line 1", "no column time_s");
    assertRefused("time_s;mass_g\n0;1\n", "line 1", "commas");
    assertRefused("time_s,grams\n0,1\n", "line 1", "no column mass_g");
    assertRefused("time_s,mass_g\n0,1\n1,NaN\n2,3\n", "line 3", "NaN", "12.34");
    assertRefused("time_s,mass_g\n0,1\nInfinity,2\n2,3\n", "line 3", "Infinity", "seconds");
    assertRefused("time_s,mass_g\n0,1\n1,\n2,3\n", "line 3", "mass_g is missing");
    assertRefused("time_s,mass_g\n5,1\n\n4.5,2\n6,3\n", "line 4", "goes back from 5 to 4.5");
    assertRefused("time_s,mass_g\n5,1\n4.5,2\n", "line 3", "goes back");
    assertRefused("time_s,mass_g\n0,1\n1,5,2\n2,3\n", "line 3", "3 values under 2 columns");
    assertRefused("time_s,mass_g\n0,1\n1\n2,3\n", "line 3", "1 value under 2 columns");
    assertRefused("time_s,mass_g,scale\n0,1,left\n1,2,whole\n", "line 2", "left", "server");
    assertRefused("time_s,mass_g,stable\n0,1,yes\n1,2,0\n", "line 2", "yes", "0 or 1");
    assertRefused("time_s,mass_g\n0,1e999999999\n1,2\n", "line 2", "no number");
    assertRefused("time_s,mass_g\n0,99999999999999\n1,2\n", "line 2", "no number");
    assertRefused("time_s,mass_g\n0,\"1\"x\n1,2\n", "line 2");
    assertRefused("t\0i\0m\0e\0\n", "UTF-8");
  }

  @Test
  void one_weight_is_a_trace() throws IOException {
    assertThat(read("time_s,mass_g\n0.0,1.5").trace().size()).isEqualTo(1);
  }

  @Test
  void missing_file_and_folder_are_named(@TempDir Path folder) {
    assertThatThrownBy(() -> TraceCsv.read(folder.resolve("no.csv"), Place.WHOLE))
        .isInstanceOf(BadRecording.class)
        .hasMessageContaining("no.csv: no such file");
    assertThatThrownBy(() -> TraceCsv.read(folder, Place.WHOLE))
        .isInstanceOf(BadRecording.class)
        .hasMessageContaining("is a folder");
  }

  @ParameterizedTest
  @CsvSource({
    "0.0000000005, 0",
    "0.0000000015, 2",
    "0.00000000250000000000000001, 3",
    "-0.0000000015, -2",
    "+7, 7000000000",
    ".5, 500000000",
    "5., 5000000000",
    "12.340000000000002, 12340000000",
    "0012.5, 12500000000",
    "1e-05, 10000",
    "9000000000, 9000000000000000000",
    "'  1.5 ', 1500000000",
    "0.000000000000000000000000000000000000001, 0"
  })
  void decimals_round_half_to_even_at_the_ninth_place(String text, long billionths) {
    char[] characters = text.toCharArray();
    assertThat(Decimals.billionths(characters, 0, characters.length)).isEqualTo(billionths);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"", "-", ".", "1.2.3", "1 2", "0x1p3", "1e", "--1", "1e400", "٣", "10000000000"})
  void other_text_is_no_number(String text) {
    char[] characters = text.toCharArray();
    assertThat(Decimals.billionths(characters, 0, characters.length)).isEqualTo(Decimals.NONE);
  }

  @Test
  void numbers_are_written_as_they_are_read() {
    SplittableRandom random = new SplittableRandom(11);
    for (int i = 0; i < 10_000; i++) {
      long billionths = random.nextLong() >> random.nextInt(64);
      StringBuilder text = new StringBuilder();
      Decimals.append(text, billionths);
      char[] characters = text.toString().toCharArray();
      assertThat(Decimals.billionths(characters, 0, characters.length))
          .as(text.toString())
          .isEqualTo(billionths);
    }
  }

  @Test
  void ten_million_lines_are_handed_on_in_constant_memory() throws IOException {
    long[] seen = new long[2];
    TraceCsv.scan(
        new ManyLines(10_000_000),
        "long.csv",
        Place.WHOLE,
        (nanos, nanograms, stability, place) -> {
          seen[0]++;
          seen[1] += nanograms;
        });
    assertThat(seen[0]).isEqualTo(10_000_000);
    assertThat(seen[1]).isEqualTo(10_000_000L * 1_250_000_000L);
  }

  /** A trace that is never held anywhere. */
  private static final class ManyLines extends InputStream {
    private final long lines;
    private long line;
    private byte[] now = "time_s,mass_g\n".getBytes(StandardCharsets.US_ASCII);
    private int at;

    ManyLines(long lines) {
      this.lines = lines;
    }

    @Override
    public int read() {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0];
    }

    @Override
    public int read(byte[] into, int from, int length) {
      int count = 0;
      while (count < length) {
        if (at == now.length) {
          if (line == lines) {
            return count == 0 ? -1 : count;
          }
          now = (line + ".5,1.25\n").getBytes(StandardCharsets.US_ASCII);
          line++;
          at = 0;
        }
        into[from + count++] = now[at++];
      }
      return count;
    }
  }
}
