package pourwright.recording;

import java.io.Closeable;
import java.io.IOException;
import java.util.Map;
import pourwright.device.Chunk;
import pourwright.units.SessionTime;

/**
 * Writes what came over one wire, chunk by chunk, as it was cut by the link. A lost link stands in
 * the file too, as a comment that {@link RawStreamReader} understands, so that a replay joins no
 * bytes that never belonged together.
 */
public final class RawStreamWriter implements Closeable {
  static final String LOST = "link-lost";
  static final String RESTORED = "link-restored";

  private final AppendFile file;
  private final StringBuilder line = new StringBuilder(128);

  private RawStreamWriter(AppendFile file) {
    this.file = file;
  }

  /**
   * Begins a raw stream in an empty file.
   *
   * @param headers such as {@code profile}, {@code rig}, {@code place} and {@code note}, in the
   *     order given
   */
  public static RawStreamWriter begin(AppendFile file, Map<String, String> headers) {
    RawStreamWriter writer = new RawStreamWriter(file);
    headers.forEach(writer::mark);
    return writer;
  }

  /** Takes the next chunk; call {@link #flush} or {@link #force} to see it in the file. */
  public void add(Chunk chunk) {
    line.setLength(0);
    Decimals.append(line, chunk.at().nanos());
    file.append(line.append(' ').append(chunk.bytes().hex()).append('\n'));
  }

  /** Notes that the link broke. */
  public void lost(SessionTime at, String why) {
    mark(LOST, seconds(at) + " " + why);
  }

  /** Notes that the link came back. */
  public void restored(SessionTime at) {
    mark(RESTORED, seconds(at));
  }

  private static String seconds(SessionTime at) {
    StringBuilder text = new StringBuilder();
    Decimals.append(text, at.nanos());
    return text.toString();
  }

  private void mark(String key, String value) {
    file.append("#" + key + ": " + value.replaceAll("\\s+", " ") + "\n");
  }

  /** See {@link AppendFile#flush}. */
  public void flush() throws IOException {
    file.flush();
  }

  /** See {@link AppendFile#force}. */
  public void force() throws IOException {
    file.force();
  }

  @Override
  public void close() throws IOException {
    file.close();
  }
}
