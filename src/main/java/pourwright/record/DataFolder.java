package pourwright.record;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Where the program keeps everything: runs, own profiles, logs.
 *
 * @param path absolute; may not exist yet
 */
public record DataFolder(Path path) {
  /** Names the data folder when the command line does not. */
  public static final String VARIABLE = "POURWRIGHT_DATA";

  private static final String NAME = "pourwright";

  /**
   * The folder the brewer named, else the one of the environment, else the usual place of the
   * operating system: {@code $XDG_DATA_HOME/pourwright} (XDG Base Directory Specification; {@code
   * ~/.local/share} when unset), {@code %LOCALAPPDATA%\pourwright}, or {@code ~/Library/Application
   * Support/pourwright}.
   *
   * @param system name of the operating system, as in the property {@code os.name}
   */
  public static DataFolder find(
      Optional<Path> named, Map<String, String> environment, Path home, String system) {
    Path path =
        named
            .or(() -> folder(environment.get(VARIABLE)))
            .orElseGet(() -> usual(environment, home, system.toLowerCase(Locale.ROOT)));
    return new DataFolder(path.toAbsolutePath().normalize());
  }

  private static Path usual(Map<String, String> environment, Path home, String system) {
    if (system.startsWith("windows")) {
      return folder(environment.get("LOCALAPPDATA"))
          .orElse(home.resolve("AppData").resolve("Local"))
          .resolve(NAME);
    }
    if (system.startsWith("mac")) {
      return home.resolve("Library").resolve("Application Support").resolve(NAME);
    }
    return folder(environment.get("XDG_DATA_HOME"))
        .filter(Path::isAbsolute)
        .orElse(home.resolve(".local").resolve("share"))
        .resolve(NAME);
  }

  private static Optional<Path> folder(@org.jspecify.annotations.Nullable String text) {
    return Optional.ofNullable(text).filter(path -> !path.isBlank()).map(Path::of);
  }

  /** The brewer's own scale profiles. */
  public Path profiles() {
    return path.resolve("profiles");
  }

  /** The checks of each scale. */
  public Path scales() {
    return path.resolve("scales");
  }

  public Path logs() {
    return path.resolve("logs");
  }

  /**
   * Makes the folder and tries to write into it.
   *
   * @throws IOException when that fails; the message is one plain sentence
   */
  public void checkWritable() throws IOException {
    try {
      Files.createDirectories(path);
      Path trial = Files.createTempFile(path, ".trial", null);
      Files.delete(trial);
    } catch (IOException refused) {
      throw new IOException(
          "runs cannot be kept in "
              + path
              + ": "
              + (refused instanceof AccessDeniedException
                  ? "it must not be written to"
                  : FileTrouble.reason(refused))
              + "; name another folder with --data",
          refused);
    }
  }
}
