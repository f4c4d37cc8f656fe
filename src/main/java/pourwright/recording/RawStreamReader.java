package pourwright.recording;

import java.io.BufferedReader;
import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.units.SessionTime;

/**
 * Reads a raw stream line by line, in memory that does not grow with the file.
 *
 * <p>Lines that begin with {@code #} are headers ({@code #key: value}, before the first bytes) or
 * comments; every other line is {@code SECONDS HEXBYTES}. A last line that was cut off is left out
 * and noted; anything else that is wrong stops the reading and names its line.
 */
public final class RawStreamReader implements Closeable {
  private static final Pattern BLANKS = Pattern.compile("\\s+");

  private final WatchedInput bytes;
  private final BufferedReader in;
  private final String name;
  private final Map<String, String> headers = new LinkedHashMap<>();
  private final List<String> notes = new ArrayList<>();

  private long lineNumber;
  private SessionTime last = SessionTime.ofNanos(Long.MIN_VALUE);
  private @Nullable Arrival first;

  private RawStreamReader(InputStream source, String name) throws IOException {
    this.bytes = new WatchedInput(source);
    this.in = new BufferedReader(new InputStreamReader(bytes, StandardCharsets.UTF_8));
    this.name = name;
    this.first = read(true).orElse(null);
    if (first == null && lineNumber == 0) {
      throw new BadRecording(name + ": is empty; a raw stream holds lines of SECONDS HEXBYTES");
    }
  }

  /**
   * Opens a raw stream and reads its headers.
   *
   * @throws BadRecording when the file is missing, or is no raw stream
   * @throws IOException when the disk fails
   */
  public static RawStreamReader open(Path file) throws IOException {
    InputStream in = Recordings.open(file);
    try {
      return new RawStreamReader(in, file.toString());
    } catch (IOException | RuntimeException e) {
      in.close();
      throw e;
    }
  }

  /**
   * Reads the headers of a raw stream.
   *
   * @param name what to call {@code in} in messages
   */
  public static RawStreamReader of(InputStream in, String name) throws IOException {
    return new RawStreamReader(in, name);
  }

  /** What stands before the first bytes, in the order written. */
  public Map<String, String> headers() {
    return Collections.unmodifiableMap(headers);
  }

  public Optional<String> findHeader(String key) {
    return Optional.ofNullable(headers.get(key));
  }

  /** Plain sentences about what was passed over so far. */
  public List<String> notes() {
    return List.copyOf(notes);
  }

  /**
   * The next bytes, loss or return of the link; empty at the end of the file.
   *
   * @throws BadRecording when the next line is wrong
   */
  public Optional<Arrival> next() throws IOException {
    Optional<Arrival> ready = Optional.ofNullable(first);
    if (ready.isPresent()) {
      first = null;
      return ready;
    }
    return read(false);
  }

  private Optional<Arrival> read(boolean areHeadersWanted) throws IOException {
    for (String line = in.readLine(); line != null; line = in.readLine()) {
      lineNumber++;
      if (line.startsWith("\uFEFF")) {
        line = line.substring(1);
      }
      if (line.isBlank()) {
        continue;
      }
      try {
        if (!line.startsWith("#")) {
          return Optional.of(inOrder(new Arrival.Received(chunk(line))));
        }
        Optional<Arrival> mark = readMark(line, areHeadersWanted);
        if (mark.isPresent()) {
          return Optional.of(inOrder(mark.get()));
        }
      } catch (BadRecording problem) {
        if (bytes.hasEndedInMidLine() && in.readLine() == null) {
          notes.add(name + " line " + lineNumber + ": the last line was cut off and is left out");
          return Optional.empty();
        }
        throw problem;
      }
    }
    return Optional.empty();
  }

  private Optional<Arrival> readMark(String line, boolean areHeadersWanted) throws BadRecording {
    int colon = line.indexOf(':');
    if (colon < 0) {
      return Optional.empty();
    }
    String key = line.substring(1, colon).strip();
    String value = line.substring(colon + 1).strip();
    int blank = value.indexOf(' ');
    String when = blank < 0 ? value : value.substring(0, blank);
    if (key.equals(RawStreamWriter.LOST)) {
      String why = blank < 0 ? "" : value.substring(blank + 1);
      return Optional.of(new Arrival.Lost(time(when), why));
    }
    if (key.equals(RawStreamWriter.RESTORED)) {
      return Optional.of(new Arrival.Restored(time(when)));
    }
    if (areHeadersWanted) {
      headers.putIfAbsent(key, value);
    }
    return Optional.empty();
  }

  private Chunk chunk(String line) throws BadRecording {
    String[] parts = BLANKS.split(line.strip(), 2);
    SessionTime at = time(parts[0]);
    String hex = parts.length < 2 ? "" : BLANKS.matcher(parts[1]).replaceAll("");
    if (hex.isEmpty()) {
      throw BadRecording.at(name, lineNumber, "has no bytes; write SECONDS HEXBYTES");
    }
    try {
      return new Chunk(at, Bytes.ofHex(hex));
    } catch (IllegalArgumentException e) {
      throw BadRecording.at(
          name, lineNumber, "the bytes must be pairs of hexadecimal digits like 2b0d0a");
    }
  }

  private SessionTime time(String text) throws BadRecording {
    long nanos = Decimals.billionths(text.toCharArray(), 0, text.length());
    if (nanos == Decimals.NONE) {
      throw BadRecording.at(
          name, lineNumber, "must begin with a time in seconds like 12.34, or with #");
    }
    return SessionTime.ofNanos(nanos);
  }

  private Arrival inOrder(Arrival arrival) throws BadRecording {
    if (arrival.at().isBefore(last)) {
      throw BadRecording.at(
          name,
          lineNumber,
          "time goes back from " + last + " to " + arrival.at() + "; lines must stand in order");
    }
    last = arrival.at();
    return arrival;
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
