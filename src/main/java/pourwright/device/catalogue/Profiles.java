package pourwright.device.catalogue;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.MalformedInputException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import pourwright.device.protocol.InvalidProfileException;
import pourwright.device.protocol.Profile;
import pourwright.device.protocol.ProfileReader;

/** The profiles a scale can be read with, by name. */
public final class Profiles {
  /** Ending of the files in a user's folder. */
  public static final String FILE_ENDING = ".yaml";

  private static final List<String> SHIPPED =
      List.of(
          "bare-number",
          "number-unit",
          "status-comma",
          "status-letter",
          "control-frame",
          "binary-sum",
          "binary-crc",
          "ble-weight-scale",
          "ble-text-stream",
          "ble-binary-message");

  private final Map<String, Profile> byName;
  private final List<String> problems;

  private Profiles(Map<String, Profile> byName, List<String> problems) {
    this.byName = byName;
    this.problems = List.copyOf(problems);
  }

  /** Those that ship with the program. */
  public static Profiles shipped() {
    Map<String, Profile> byName = new TreeMap<>();
    for (String name : SHIPPED) {
      byName.put(name, shipped(name));
    }
    return new Profiles(byName, List.of());
  }

  /**
   * Those that ship and those in a folder; of two with one name the folder's is used.
   *
   * <p>A file that is no profile does not keep the others from being used: see {@link #problems}.
   *
   * @param folder need not exist
   */
  public static Profiles with(Path folder) {
    Profiles shipped = shipped();
    if (!Files.isDirectory(folder)) {
      return shipped;
    }
    Map<String, Profile> byName = new TreeMap<>(shipped.byName);
    Map<String, Path> own = new TreeMap<>();
    List<String> problems = new ArrayList<>();
    try (Stream<Path> files = Files.list(folder)) {
      for (Path file :
          files.filter(path -> path.toString().endsWith(FILE_ENDING)).sorted().toList()) {
        try {
          Profile profile = ProfileReader.read(Files.readString(file), file.toString());
          Path other = own.putIfAbsent(profile.name(), file);
          if (other == null) {
            byName.put(profile.name(), profile);
          } else {
            problems.add(file + ": the name " + profile.name() + " is taken by " + other);
          }
        } catch (InvalidProfileException e) {
          problems.add(String.valueOf(e.getMessage()));
        } catch (MalformedInputException e) {
          problems.add(file + ": no UTF-8 text");
        }
      }
    } catch (IOException e) {
      problems.add("the profiles in " + folder + " cannot be read: " + e.getMessage());
    }
    return new Profiles(byName, problems);
  }

  public Optional<Profile> find(String name) {
    return Optional.ofNullable(byName.get(name));
  }

  /** By name. */
  public List<Profile> list() {
    return List.copyOf(byName.values());
  }

  /** What was wrong with files that could not be used, one plain sentence each. */
  public List<String> problems() {
    return problems;
  }

  private static Profile shipped(String name) {
    String resource = "/pourwright/profiles/" + name + FILE_ENDING;
    try (InputStream in = Profiles.class.getResourceAsStream(resource)) {
      if (in == null) {
        throw new IllegalStateException("the program lacks its own " + resource);
      }
      return ProfileReader.read(new String(in.readAllBytes(), StandardCharsets.UTF_8), resource);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InvalidProfileException e) {
      throw new IllegalStateException(e);
    }
  }
}
