package pourwright.recording;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RecordingsTest {
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          '#profile: bare-number' | true
          '\uFEFF#profile: x'       | true
          0.5 310d0a              | true
          12\t31                  | true
          time_s,mass_g           | false
          0.5,12                  | false
          0.5 3                   | false
          ''                      | false
          """)
  void a_raw_stream_is_told_from_a_trace_by_its_beginning_and_nothing_is_used_up(
      String text, boolean isRaw) throws IOException {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    InputStream in = new BufferedInputStream(new ByteArrayInputStream(bytes));
    assertThat(Recordings.looksRaw(in)).isEqualTo(isRaw);
    assertThat(in.readAllBytes()).isEqualTo(bytes);
  }
}
