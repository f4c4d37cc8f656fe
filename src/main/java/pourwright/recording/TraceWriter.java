package pourwright.recording;

import java.io.Closeable;
import java.io.IOException;
import java.util.Set;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.rig.Place;

/** Writes a trace (RFC 4180) weight by weight; exact, so that reading it gives the same weights. */
public final class TraceWriter implements Closeable {
  private final AppendFile file;
  private final boolean namesPlaces;
  private final StringBuilder line = new StringBuilder(64);

  private TraceWriter(AppendFile file, boolean namesPlaces) {
    this.file = file;
    this.namesPlaces = namesPlaces;
  }

  /**
   * Begins a trace in an empty file.
   *
   * @param places what will be weighed; one place needs no {@code scale} column
   */
  public static TraceWriter begin(AppendFile file, Set<Place> places) {
    boolean namesPlaces = places.size() > 1;
    file.append(namesPlaces ? "time_s,mass_g,scale,stable\r\n" : "time_s,mass_g,stable\r\n");
    return new TraceWriter(file, namesPlaces);
  }

  /** Takes the next weight; call {@link #flush} or {@link #force} to see it in the file. */
  public void add(Reading reading, Place place) {
    line.setLength(0);
    Decimals.append(line, reading.at().nanos());
    line.append(',');
    Decimals.append(line, reading.mass().nanograms());
    if (namesPlaces) {
      line.append(',').append(place.word());
    }
    line.append(',');
    if (reading.stability() != Stability.UNSTATED) {
      line.append(reading.stability() == Stability.STABLE ? '1' : '0');
    }
    file.append(line.append("\r\n"));
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
