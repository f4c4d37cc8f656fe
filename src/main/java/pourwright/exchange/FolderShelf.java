package pourwright.exchange;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.Set;
import java.util.stream.Stream;

/** A folder of runs, or of one. */
final class FolderShelf implements Shelf {
  /** Runs lie in it or one below. */
  private static final int DEPTH = 2;

  private final Path folder;
  private final Set<String> names = new LinkedHashSet<>();

  FolderShelf(Path folder) throws IOException {
    this.folder = folder;
    try (Stream<Path> files = Files.walk(folder, DEPTH)) {
      files
          .filter(Files::isRegularFile)
          .map(file -> folder.relativize(file).toString().replace('\\', '/'))
          .sorted()
          .forEach(names::add);
    }
  }

  @Override
  public String title() {
    return folder.toString();
  }

  @Override
  public Set<String> names() {
    return names;
  }

  @Override
  public InputStream open(String name, long mostBytes) throws IOException {
    return new LimitedInput(
        Files.newInputStream(folder.resolve(name)),
        mostBytes,
        folder.resolve(name) + ": is larger than weights can be");
  }

  @Override
  public void close() {}
}
