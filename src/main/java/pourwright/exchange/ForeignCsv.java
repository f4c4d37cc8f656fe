package pourwright.exchange;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.dataformat.csv.CsvFactory;
import com.fasterxml.jackson.dataformat.csv.CsvParser;
import com.fasterxml.jackson.dataformat.csv.CsvSchema;
import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import pourwright.reading.Stability;
import pourwright.recording.Decimals;
import pourwright.recording.Trace;
import pourwright.rig.Place;
import pourwright.units.MassUnit;

/**
 * Reads weights out of any CSV that has a column of times and a column of masses, row by row, in
 * memory that does not grow with the file.
 *
 * <p>Columns are named by their title or by their number from 1. Values may be parted by commas,
 * semicolons or tabs, whichever occurs most in the first line; where they are parted by something
 * else than commas, a decimal comma is understood. Times are counted from the first row.
 */
public final class ForeignCsv {
  private static final int SNIFFED_BYTES = 4096;
  private static final int LONGEST_VALUE = 10_000;
  private static final int SHOWN_CHARACTERS = 24;

  private final String name;
  private final Mapping mapping;

  /** How the file is to be understood. */
  public record Mapping(
      String timeColumn, String massColumn, TimeUnit timeUnit, MassUnit massUnit, Place place) {}

  /** Units of time in files. */
  public enum TimeUnit {
    SECONDS("s", 1),
    MILLISECONDS("ms", 1_000),
    MICROSECONDS("us", 1_000_000);

    private final String word;
    private final long perSecond;

    TimeUnit(String word, long perSecond) {
      this.word = word;
      this.perSecond = perSecond;
    }

    /** As written on the command line. */
    public String word() {
      return word;
    }

    public static Optional<TimeUnit> findByWord(String word) {
      return List.of(values()).stream().filter(unit -> unit.word.equals(word)).findFirst();
    }
  }

  /**
   * @param name of the file, for messages
   */
  public ForeignCsv(String name, Mapping mapping) {
    this.name = name;
    this.mapping = mapping;
  }

  /**
   * Hands every weight to {@code rows}.
   *
   * @return how many rows had no number in one of the two columns and were passed over
   * @throws RefusedImport when a column is missing, time goes back, or there is no weight at all
   */
  public long read(InputStream source, Trace.Rows rows) throws IOException {
    BufferedInputStream in = new BufferedInputStream(source, 1 << 16);
    char separator = separator(in);
    CsvFactory factory =
        CsvFactory.builder()
            .enable(CsvParser.Feature.SKIP_EMPTY_LINES)
            .enable(CsvParser.Feature.TRIM_SPACES)
            .streamReadConstraints(
                StreamReadConstraints.builder().maxStringLength(LONGEST_VALUE).build())
            .build();
    try (CsvParser parser =
        factory.createParser(new InputStreamReader(in, StandardCharsets.UTF_8))) {
      parser.setSchema(CsvSchema.emptySchema().withColumnSeparator(separator));
      return scan(parser, separator != ',', rows);
    } catch (JsonProcessingException broken) {
      throw new RefusedImport(name + ": is no CSV (" + broken.getOriginalMessage() + ")", broken);
    }
  }

  private static char separator(BufferedInputStream in) throws IOException {
    in.mark(SNIFFED_BYTES);
    String start = new String(in.readNBytes(SNIFFED_BYTES), StandardCharsets.UTF_8);
    in.reset();
    String line = start.lines().findFirst().orElse("");
    char best = ',';
    for (char each : new char[] {';', '\t'}) {
      if (count(line, each) > count(line, best)) {
        best = each;
      }
    }
    return best;
  }

  private static long count(String line, char wanted) {
    return line.chars().filter(each -> each == wanted).count();
  }

  private long scan(CsvParser parser, boolean isDecimalComma, Trace.Rows rows) throws IOException {
    List<String> titles = row(parser);
    if (titles.isEmpty()) {
      throw new RefusedImport(name + ": is empty");
    }
    int time = column(mapping.timeColumn(), titles);
    int mass = column(mapping.massColumn(), titles);
    long first = Decimals.NONE;
    long last = Long.MIN_VALUE;
    long passedOver = 0;
    boolean hasWeights = false;
    while (parser.nextToken() == JsonToken.START_ARRAY) {
      long line = parser.currentLocation().getLineNr();
      long at = Decimals.NONE;
      long weight = Decimals.NONE;
      for (int column = 0; parser.nextToken() == JsonToken.VALUE_STRING; column++) {
        if (column == time) {
          at = nanos(number(parser, isDecimalComma));
        } else if (column == mass) {
          weight = nanograms(number(parser, isDecimalComma));
        }
      }
      if (at == Decimals.NONE || weight == Decimals.NONE) {
        passedOver++;
        continue;
      }
      first = first == Decimals.NONE ? at : first;
      if (at < last) {
        throw new RefusedImport(
            name + " line " + line + ": time goes back; rows must stand in order of time");
      }
      last = at;
      hasWeights = true;
      rows.add(at - first, weight, Stability.UNSTATED, mapping.place());
    }
    if (!hasWeights) {
      throw new RefusedImport(
          name
              + ": holds no row with numbers under “"
              + mapping.timeColumn()
              + "” and “"
              + mapping.massColumn()
              + "”");
    }
    return passedOver;
  }

  private static List<String> row(CsvParser parser) throws IOException {
    List<String> values = new ArrayList<>();
    if (parser.nextToken() == JsonToken.START_ARRAY) {
      while (parser.nextToken() == JsonToken.VALUE_STRING) {
        values.add(parser.getText().replace("\uFEFF", "").strip());
      }
    }
    return values;
  }

  private int column(String wanted, List<String> titles) throws RefusedImport {
    for (int i = 0; i < titles.size(); i++) {
      if (titles.get(i).equalsIgnoreCase(wanted.strip())) {
        return i;
      }
    }
    OptionalInt number = number(wanted);
    if (number.isPresent() && number.getAsInt() >= 1 && number.getAsInt() <= titles.size()) {
      return number.getAsInt() - 1;
    }
    throw new RefusedImport(
        name
            + ": has no column “"
            + wanted
            + "”; its columns are "
            + String.join(", ", titles.stream().map(ForeignCsv::shown).toList()));
  }

  private static OptionalInt number(String text) {
    return text.matches("\\d{1,6}") ? OptionalInt.of(Integer.parseInt(text)) : OptionalInt.empty();
  }

  /** In billionths of the unit. */
  private static long number(CsvParser parser, boolean isDecimalComma) throws IOException {
    char[] text = parser.getTextCharacters();
    int from = parser.getTextOffset();
    int to = from + parser.getTextLength();
    if (isDecimalComma) {
      text = new String(text, from, to - from).replace(',', '.').toCharArray();
      from = 0;
      to = text.length;
    }
    return Decimals.billionths(text, from, to);
  }

  private long nanos(long billionths) {
    return billionths == Decimals.NONE ? billionths : billionths / mapping.timeUnit().perSecond;
  }

  private long nanograms(long billionths) {
    if (billionths == Decimals.NONE || mapping.massUnit() == MassUnit.GRAM) {
      return billionths;
    }
    BigDecimal exact =
        BigDecimal.valueOf(billionths, 9)
            .multiply(BigDecimal.valueOf(mapping.massUnit().nanograms()))
            .setScale(0, RoundingMode.HALF_EVEN);
    return exact.unscaledValue().bitLength() > 62 ? Decimals.NONE : exact.longValueExact();
  }

  private static String shown(String title) {
    String printable = title.replaceAll("\\p{Cntrl}", "·");
    return printable.length() <= SHOWN_CHARACTERS
        ? printable
        : printable.substring(0, SHOWN_CHARACTERS) + "…";
  }
}
