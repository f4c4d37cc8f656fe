package pourwright.exchange;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import pourwright.rig.Place;
import pourwright.units.MassUnit;

@Timeout(60)
class ForeignCsvTest {
  private static final ForeignCsv.Mapping PLAIN = mapping("t", "m", "s", MassUnit.GRAM);

  private static ForeignCsv.Mapping mapping(
      String time, String mass, String timeUnit, MassUnit massUnit) {
    return new ForeignCsv.Mapping(
        time, mass, ForeignCsv.TimeUnit.findByWord(timeUnit).orElseThrow(), massUnit, Place.WHOLE);
  }

  private static List<String> read(String text, ForeignCsv.Mapping mapping) throws IOException {
    List<String> rows = new ArrayList<>();
    InputStream in = new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8));
    long passedOver =
        new ForeignCsv("other.csv", mapping)
            .read(in, (at, mass, stability, place) -> rows.add(at + " " + mass));
    rows.add(passedOver + " passed over");
    return rows;
  }

  @Test
  void columns_are_found_by_title_whatever_else_there_is() throws Exception {
    assertThat(
            read(
                "\uFEFFlabel, T ,\"M\",x\r\na,10.5,-0.25,1\r\nb,10.75,1e1,2\r\n",
                mapping("t", "m", "s", MassUnit.GRAM)))
        .containsExactly("0 -250000000", "250000000 10000000000", "0 passed over");
  }

  @Test
  void columns_are_found_by_number() throws Exception {
    assertThat(read("a,b,c\n1,2,3\n", mapping("3", "1", "s", MassUnit.GRAM)))
        .containsExactly("0 1000000000", "0 passed over");
  }

  @ParameterizedTest
  @CsvSource({"ms,1000", "us,1", "s,1000000"})
  void times_have_a_unit(String unit, long microsPerUnit) throws Exception {
    assertThat(read("t,m\n0,1\n2,1\n", mapping("t", "m", unit, MassUnit.GRAM)))
        .startsWith("0 1000000000", 2 * microsPerUnit * 1000 + " 1000000000");
  }

  /** International avoirdupois pound of 1959: 0.45359237 kg by definition. */
  @ParameterizedTest
  @CsvSource({
    "GRAM,1000000000",
    "OUNCE,28349523125",
    "POUND,453592370000",
    "KILOGRAM,1000000000000",
    "MILLIGRAM,1000000",
    "GRAIN,64798910"
  })
  void masses_have_a_unit(MassUnit unit, long nanograms) throws Exception {
    assertThat(read("t,m\n0,1\n", mapping("t", "m", "s", unit))).startsWith("0 " + nanograms);
  }

  @Test
  void semicolons_part_values_with_decimal_commas() throws Exception {
    assertThat(read("t;m\n0,5;12,3\n0,75;12,4\n", PLAIN))
        .containsExactly("0 12300000000", "250000000 12400000000", "0 passed over");
    assertThat(read("t\tm\n0\t1\n", PLAIN)).startsWith("0 1000000000");
  }

  @Test
  void rows_without_two_numbers_are_passed_over_and_counted() throws Exception {
    assertThat(read("t,m\n0,1\n,2\n1,\n1,NaN\n1,n/a\nend\n2,3,4\n", PLAIN))
        .containsExactly("0 1000000000", "2000000000 3000000000", "5 passed over");
  }

  @Test
  void what_is_wrong_is_named_with_its_line() {
    assertThatThrownBy(() -> read("t,m\n0,1\n2,1\n1,1\n", PLAIN))
        .isInstanceOf(RefusedImport.class)
        .hasMessage("other.csv line 4: time goes back; rows must stand in order of time");
    assertThatThrownBy(() -> read("time,weight\n0,1\n", PLAIN))
        .isInstanceOf(RefusedImport.class)
        .hasMessage("other.csv: has no column “t”; its columns are time, weight");
    assertThatThrownBy(() -> read("t,m\nx,y\n", PLAIN))
        .isInstanceOf(RefusedImport.class)
        .hasMessageContaining("holds no row with numbers");
    assertThatThrownBy(() -> read("", PLAIN))
        .isInstanceOf(RefusedImport.class)
        .hasMessage("other.csv: is empty");
  }

  /** Of 100 MB, made while they are read. */
  private static final class LongFile extends InputStream {
    private static final long ROWS = 5_000_000;
    private long row = -1;
    private byte[] line = new byte[0];
    private int at;

    @Override
    public int read() {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] into, int from, int length) {
      if (at == line.length) {
        if (++row > ROWS) {
          return -1;
        }
        line =
            (row == 0 ? "t,m\n" : 1_000_000 + row + ".25,12.3456789\n")
                .getBytes(StandardCharsets.UTF_8);
        at = 0;
      }
      int count = Math.min(length, line.length - at);
      System.arraycopy(line, at, into, from, count);
      at += count;
      return count;
    }
  }

  @Test
  void a_hundred_megabytes_are_read_row_by_row() throws Exception {
    AtomicLong rows = new AtomicLong();
    AtomicLong last = new AtomicLong();
    new ForeignCsv("long.csv", PLAIN)
        .read(
            new LongFile(),
            (at, mass, stability, place) -> {
              rows.incrementAndGet();
              last.set(at);
            });
    assertThat(rows).hasValue(LongFile.ROWS);
    assertThat(last).hasValue((LongFile.ROWS - 1) * 1_000_000_000L);
  }

  @ParameterizedTest
  @CsvSource(
      quoteCharacter = '`',
      value = {
        "=1+1,'=1+1",
        "+1,'+1",
        "-1,'-1",
        "@SUM(A1),'@SUM(A1)",
        "round and short,round and short",
        "1=1,1=1"
      })
  void cells_that_look_like_formulas_are_text(String note, String cell) {
    assertThat(SafeCell.of(note)).isEqualTo(cell);
  }

  @Test
  void cells_are_quoted_where_they_need_it() {
    assertThat(SafeCell.of("a,b")).isEqualTo("\"a,b\"");
    assertThat(SafeCell.of("say \"so\"")).isEqualTo("\"say \"\"so\"\"\"");
    assertThat(SafeCell.of("\t=1")).isEqualTo("'\t=1");
    assertThat(SafeCell.of("=\"a\nb\"")).isEqualTo("\"'=\"\"a\nb\"\"\"");
    assertThat(SafeCell.of("")).isEmpty();
  }
}
