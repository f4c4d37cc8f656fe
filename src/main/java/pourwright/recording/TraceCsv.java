package pourwright.recording;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.dataformat.csv.CsvFactory;
import com.fasterxml.jackson.dataformat.csv.CsvParser;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.reading.Stability;
import pourwright.rig.Place;

/**
 * Reads traces: RFC 4180, UTF-8, a header with {@code time_s} and {@code mass_g} and, where wanted,
 * {@code scale} and {@code stable}, in any order.
 *
 * <p>Rows are handed on as they are read, so a file of any length needs no more memory than its
 * taker does. A last line that was cut off (the power went, the program was killed) is left out and
 * noted; anything else that is wrong stops the reading and names its line.
 */
public final class TraceCsv {
  private static final CsvFactory CSV =
      CsvFactory.builder()
          .enable(CsvParser.Feature.SKIP_EMPTY_LINES)
          .streamReadConstraints(StreamReadConstraints.builder().maxStringLength(10_000).build())
          .build();

  private static final int SHOWN_CHARACTERS = 24;

  private final String name;
  private final Place otherwise;
  private final Trace.Rows rows;
  private final WatchedInput bytes;
  private final List<String> notes = new ArrayList<>();

  private TraceCsv(String name, Place otherwise, Trace.Rows rows, WatchedInput bytes) {
    this.name = name;
    this.otherwise = otherwise;
    this.rows = rows;
    this.bytes = bytes;
  }

  /**
   * A trace that was read.
   *
   * @param namesPlaces whether it has a {@code scale} column
   * @param notes plain sentences about what was passed over
   */
  public record ReadTrace(Trace trace, boolean namesPlaces, List<String> notes) {
    public ReadTrace {
      notes = List.copyOf(notes);
    }
  }

  /**
   * What a reading that handed its rows on has to say afterwards.
   *
   * @param namesPlaces whether the trace has a {@code scale} column
   * @param notes plain sentences about what was passed over
   */
  public record Told(boolean namesPlaces, List<String> notes) {
    public Told {
      notes = List.copyOf(notes);
    }
  }

  /**
   * Reads a whole trace file.
   *
   * @param otherwise the place weighed by a trace without a {@code scale} column
   * @throws BadRecording when the file is missing or is not a trace with at least one weight
   * @throws IOException when the disk fails
   */
  public static ReadTrace read(Path file, Place otherwise) throws IOException {
    try (InputStream in = Recordings.open(file)) {
      return read(in, file.toString(), otherwise);
    }
  }

  /**
   * Reads a whole trace.
   *
   * @param name what to call {@code in} in messages
   * @param otherwise the place weighed by a trace without a {@code scale} column
   * @throws BadRecording when it is not a trace with at least one weight
   */
  public static ReadTrace read(InputStream in, String name, Place otherwise) throws IOException {
    Trace.Builder built = new Trace.Builder();
    Told told = scan(in, name, otherwise, built);
    return new ReadTrace(built.build(), told.namesPlaces(), told.notes());
  }

  /**
   * Hands every weight of a trace to {@code rows} as it is read.
   *
   * @param name what to call {@code in} in messages
   * @param otherwise the place weighed by a trace without a {@code scale} column
   * @throws BadRecording when it is not a trace with at least one weight; rows before the bad line
   *     have been handed on
   */
  public static Told scan(InputStream in, String name, Place otherwise, Trace.Rows rows)
      throws IOException {
    WatchedInput bytes = new WatchedInput(in);
    try (CsvParser parser =
        CSV.createParser(new InputStreamReader(bytes, StandardCharsets.UTF_8))) {
      return new TraceCsv(name, otherwise, rows, bytes).scan(parser);
    }
  }

  private Told scan(CsvParser parser) throws IOException {
    Columns columns = Columns.NONE_YET;
    Row previous = new Row();
    Row row = new Row();
    long count = 0;
    try {
      columns = readHeader(parser);
      while (parser.nextToken() == JsonToken.START_ARRAY) {
        Optional<String> problem = readRow(parser, columns, row);
        if (problem.isEmpty() && count > 0 && row.nanos < previous.nanos) {
          problem =
              Optional.of(
                  "time_s goes back from "
                      + text(previous.nanos)
                      + " to "
                      + text(row.nanos)
                      + "; weights must stand in order of time");
        }
        boolean mayBeTorn = bytes.hasEndedInMidLine();
        if (mayBeTorn && isTorn(problem, count, previous, row) && parser.nextToken() == null) {
          notes.add(name + " line " + row.line + ": the last line was cut off and is left out");
          break;
        }
        if (problem.isPresent()) {
          throw BadRecording.at(name, row.line, problem.get());
        }
        rows.add(row.nanos, row.nanograms, row.stability, row.place);
        Row spare = previous;
        previous = row;
        row = spare;
        count++;
      }
    } catch (JsonProcessingException e) {
      long line = e.getLocation() == null ? previous.line + 1 : e.getLocation().getLineNr();
      throw BadRecording.at(
          name, line, "is no CSV (" + e.getOriginalMessage() + "); look for a lone quotation mark");
    }
    if (count == 0) {
      throw new BadRecording(name + ": holds no weights, only a header");
    }
    return new Told(columns.scale() >= 0, notes);
  }

  /**
   * Whether the last line of a file that does not end with an end of line was cut off: it cannot be
   * read, or its last value has other decimal places than that of the line before.
   */
  private static boolean isTorn(Optional<String> problem, long count, Row previous, Row row) {
    return problem.isPresent() || (count > 0 && row.lastPlaces != previous.lastPlaces);
  }

  private Columns readHeader(CsvParser parser) throws IOException {
    if (parser.nextToken() != JsonToken.START_ARRAY) {
      throw new BadRecording(name + ": is empty; a trace begins with the line time_s,mass_g");
    }
    Columns columns = Columns.NONE_YET;
    List<String> ignored = new ArrayList<>();
    int column = 0;
    while (parser.nextToken() == JsonToken.VALUE_STRING) {
      String title = parser.getText();
      if (column == 0) {
        refuseOtherEncodings(title);
        title = title.startsWith("\uFEFF") ? title.substring(1) : title;
      }
      title = title.strip().toLowerCase(Locale.ROOT);
      Optional<Columns> more = columns.with(title, column);
      if (more.isEmpty() && !title.isEmpty()) {
        ignored.add(shown(title));
      }
      columns = more.orElse(columns);
      column++;
    }
    columns = columns.of(column);
    if (columns.time() < 0 || columns.mass() < 0) {
      String missing = columns.time() < 0 ? "time_s" : "mass_g";
      throw BadRecording.at(
          name,
          1,
          "has no column "
              + missing
              + "; a trace begins with the line time_s,mass_g, its columns parted by commas");
    }
    if (!ignored.isEmpty()) {
      notes.add(name + ": ignored " + String.join(", ", ignored));
    }
    return columns;
  }

  private void refuseOtherEncodings(String start) throws BadRecording {
    if (start.startsWith("\uFFFD\uFFFD") || start.indexOf('\0') >= 0) {
      throw BadRecording.at(name, 1, "is not UTF-8 text; save it as CSV UTF-8");
    }
  }

  /** Fills {@code row} from the next record; what is wrong with it, if anything. */
  private Optional<String> readRow(CsvParser parser, Columns columns, Row row) throws IOException {
    row.stability = Stability.UNSTATED;
    row.place = otherwise;
    Optional<String> problem = Optional.empty();
    int column = 0;
    while (parser.nextToken() == JsonToken.VALUE_STRING) {
      char[] text = parser.getTextCharacters();
      int from = parser.getTextOffset();
      int to = from + parser.getTextLength();
      if (column == columns.time()) {
        row.nanos = Decimals.billionths(text, from, to);
        if (row.nanos == Decimals.NONE && problem.isEmpty()) {
          problem = Optional.of(noNumber("time_s", text, from, to, "seconds like 12.34"));
        }
      } else if (column == columns.mass()) {
        row.nanograms = Decimals.billionths(text, from, to);
        if (row.nanograms == Decimals.NONE && problem.isEmpty()) {
          problem = Optional.of(noNumber("mass_g", text, from, to, "grams like 12.34"));
        }
      } else if (column == columns.scale() || column == columns.stable()) {
        Optional<String> wrong = readWord(column == columns.scale(), text, from, to, row);
        problem = problem.isPresent() ? problem : wrong;
      }
      if (column == 0) {
        row.line = parser.currentTokenLocation().getLineNr();
      }
      row.lastPlaces = decimalPlaces(text, from, to);
      column++;
    }
    if (column != columns.count()) {
      return Optional.of(
          "has "
              + column
              + (column == 1 ? " value" : " values")
              + " under "
              + columns.count()
              + " columns; part values by commas and write decimals with a point");
    }
    return problem;
  }

  private static Optional<String> readWord(
      boolean isScale, char[] text, int from, int to, Row row) {
    String word = new String(text, from, to - from).strip();
    if (isScale) {
      Optional<Place> place = Place.findByWord(word);
      place.ifPresent(found -> row.place = found);
      return place.isPresent()
          ? Optional.empty()
          : Optional.of("scale says “" + shown(word) + "”; it must be whole or server");
    }
    switch (word) {
      case "" -> row.stability = Stability.UNSTATED;
      case "0" -> row.stability = Stability.MOVING;
      case "1" -> row.stability = Stability.STABLE;
      default -> {
        return Optional.of("stable says “" + shown(word) + "”; it must be 0 or 1");
      }
    }
    return Optional.empty();
  }

  private static String noNumber(String column, char[] text, int from, int to, String rightForm) {
    String word = new String(text, from, to - from).strip();
    return word.isEmpty()
        ? column + " is missing; write " + rightForm
        : column + " says “" + shown(word) + "”, which is no number; write " + rightForm;
  }

  /** How many digits follow the decimal point; -1 for no text at all. */
  private static int decimalPlaces(char[] text, int from, int to) {
    if (from == to) {
      return -1;
    }
    for (int at = from; at < to; at++) {
      if (text[at] == '.') {
        return to - at - 1;
      }
    }
    return 0;
  }

  private static String shown(String word) {
    String printable = word.replaceAll("\\p{Cntrl}", "·");
    return printable.length() <= SHOWN_CHARACTERS
        ? printable
        : printable.substring(0, SHOWN_CHARACTERS) + "…";
  }

  private static String text(long billionths) {
    StringBuilder text = new StringBuilder();
    Decimals.append(text, billionths);
    return text.toString();
  }

  /** One line while it is being read. */
  private static final class Row {
    private long line;
    private long nanos;
    private long nanograms;
    private int lastPlaces;
    private Stability stability = Stability.UNSTATED;
    private Place place = Place.WHOLE;
  }

  /** Where the columns stand, from 0; below 0 where there is none. */
  private record Columns(int time, int mass, int scale, int stable, int count) {
    static final Columns NONE_YET = new Columns(-1, -1, -1, -1, 0);

    /** These with one more; empty when the title is none of ours or came before. */
    Optional<Columns> with(String title, int column) {
      return switch (title) {
        case "time_s" -> once(time, new Columns(column, mass, scale, stable, count));
        case "mass_g" -> once(mass, new Columns(time, column, scale, stable, count));
        case "scale" -> once(scale, new Columns(time, mass, column, stable, count));
        case "stable" -> once(stable, new Columns(time, mass, scale, column, count));
        default -> Optional.empty();
      };
    }

    Columns of(int all) {
      return new Columns(time, mass, scale, stable, all);
    }

    private static Optional<Columns> once(int before, Columns more) {
      return before < 0 ? Optional.of(more) : Optional.empty();
    }
  }
}
