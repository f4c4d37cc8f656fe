package pourwright.exchange;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;

/**
 * A zip that nobody trusts: it is never unpacked to disk, its names must stay inside of it, and no
 * file of it may grow beyond what weights can.
 */
final class ZipShelf implements Shelf {
  private static final int MOST_FILES = 200_000;

  /** Text of weights shrinks to a tenth, a bomb to a thousandth; own choice in between. */
  private static final long MOST_GROWTH = 200;

  /** Small files may shrink to next to nothing. */
  private static final long FREE_BYTES = 1 << 20;

  private final Path path;
  private final ZipFile zip;
  private final Map<String, ZipEntry> files = new LinkedHashMap<>();

  private ZipShelf(Path path, ZipFile zip) {
    this.path = path;
    this.zip = zip;
  }

  static ZipShelf open(Path path) throws IOException {
    ZipFile zip;
    try {
      zip = new ZipFile(path.toFile());
    } catch (ZipException broken) {
      throw new RefusedImport(path + ": is no zip, or is cut off", broken);
    }
    ZipShelf shelf = new ZipShelf(path, zip);
    try {
      shelf.lookThrough();
      return shelf;
    } catch (IOException | RuntimeException refused) {
      zip.close();
      throw refused;
    }
  }

  private void lookThrough() throws RefusedImport {
    if (zip.size() > MOST_FILES) {
      throw new RefusedImport(path + ": holds too many files (" + zip.size() + ")");
    }
    for (ZipEntry entry : Collections.list(zip.entries())) {
      String name = entry.getName();
      if (leadsOut(name)) {
        throw new RefusedImport(
            path
                + ": names a file outside of itself (“"
                + name.replaceAll("\\p{Cntrl}", "·")
                + "”); nothing was imported");
      }
      if (!entry.isDirectory()) {
        files.put(name, entry);
      }
    }
  }

  private static boolean leadsOut(String name) {
    return name.startsWith("/")
        || name.indexOf('\\') >= 0
        || name.indexOf(':') >= 0
        || name.indexOf('\0') >= 0
        || List.of(name.split("/", -1)).contains("..");
  }

  @Override
  public String title() {
    return path.toString();
  }

  @Override
  public Set<String> names() {
    return Collections.unmodifiableSet(files.keySet());
  }

  @Override
  public InputStream open(String name, long mostBytes) throws IOException {
    ZipEntry entry = files.get(name);
    if (entry == null) {
      throw new RefusedImport(path + ": has no file " + name);
    }
    long grown = FREE_BYTES + MOST_GROWTH * Math.max(0, entry.getCompressedSize());
    return new LimitedInput(
        zip.getInputStream(entry),
        Math.min(mostBytes, grown),
        path + ": " + name + " grows beyond what weights can; nothing of it was imported");
  }

  @Override
  public void close() throws IOException {
    zip.close();
  }
}
