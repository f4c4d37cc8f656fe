package pourwright.exchange;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.util.Set;

/** Files with relative names, parted by slashes: a folder or a zip. */
interface Shelf extends Closeable {
  /** What to call it in messages. */
  String title();

  /** Every file on it. */
  Set<String> names();

  /**
   * Opens a file.
   *
   * @param mostBytes after which reading it is refused
   * @throws RefusedImport while reading, when it is larger
   */
  InputStream open(String name, long mostBytes) throws IOException;
}
