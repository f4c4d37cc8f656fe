package pourwright.history;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.check.CheckRecord;

/**
 * The checks of all scales, a folder for each scale and in it a file for each check. A file is
 * written beside its place and then moved there, so it is whole or not there; none is ever changed.
 */
public final class ScaleHistory {
  private static final Logger LOG = LoggerFactory.getLogger(ScaleHistory.class);
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int NAME_CHARACTERS = 40;
  private static final int HASH_BYTES = 4;
  private static final String ENDING = ".json";

  private final Path folder;

  /**
   * @param folder of all scales; may not exist yet
   */
  public ScaleHistory(Path folder) {
    this.folder = folder;
  }

  /**
   * By what a scale is known from one time to the next: its address without speed and line
   * settings, and its profile.
   */
  public static String nameOf(String address, String profile) {
    int query = address.indexOf('?');
    return (query < 0 ? address : address.substring(0, query)) + "?profile=" + profile;
  }

  /**
   * Keeps a check.
   *
   * @return the file
   * @throws IOException when it cannot be kept; the message is one plain sentence
   */
  public Path keep(CheckRecord check) throws IOException {
    Path own = folderOf(check.scale());
    String stamp = check.at().toString().replace(':', '-').replaceAll("\\.[0-9]+Z$", "Z");
    try {
      Files.createDirectories(own);
      Path file = own.resolve(stamp + ENDING);
      for (int again = 2; Files.exists(file); again++) {
        file = own.resolve(stamp + "-" + again + ENDING);
      }
      Path draft = own.resolve(file.getFileName() + ".new");
      try (FileChannel channel =
          FileChannel.open(
              draft,
              StandardOpenOption.CREATE,
              StandardOpenOption.WRITE,
              StandardOpenOption.TRUNCATE_EXISTING)) {
        ByteBuffer bytes = ByteBuffer.wrap(json(check));
        while (bytes.hasRemaining()) {
          channel.write(bytes);
        }
        channel.force(true);
      }
      Files.move(draft, file, StandardCopyOption.ATOMIC_MOVE);
      return file;
    } catch (IOException failed) {
      throw new IOException(
          "the check cannot be kept in "
              + own
              + " ("
              + failed.getMessage()
              + "); name another folder with --data",
          failed);
    }
  }

  private static byte[] json(CheckRecord check) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (JsonGenerator json = new JsonFactory().createGenerator(bytes).useDefaultPrettyPrinter()) {
      json.writeStartObject();
      CheckJson.writeMembers(json, check);
      json.writeEndObject();
      json.writeRaw('\n');
    }
    return bytes.toByteArray();
  }

  /** All checks of a scale that can be read, oldest first; a spoilt file is logged and left out. */
  public List<CheckRecord> list(String scale) {
    return listIn(folderOf(scale));
  }

  private static List<CheckRecord> listIn(Path own) {
    List<CheckRecord> checks = new ArrayList<>();
    if (Files.isDirectory(own)) {
      try (Stream<Path> files = Files.list(own)) {
        for (Path file : files.filter(path -> path.toString().endsWith(ENDING)).toList()) {
          read(file).ifPresent(checks::add);
        }
      } catch (IOException unreadable) {
        LOG.warn("checks in {} cannot be listed", own, unreadable);
      }
    }
    checks.sort(Comparator.comparing(CheckRecord::at));
    return checks;
  }

  /** The newest check of every scale, the newest first. */
  public List<CheckRecord> listLast() {
    List<CheckRecord> checks = new ArrayList<>();
    if (Files.isDirectory(folder)) {
      try (Stream<Path> scales = Files.list(folder)) {
        for (Path scale : scales.filter(Files::isDirectory).toList()) {
          List<CheckRecord> own = listIn(scale);
          if (!own.isEmpty()) {
            checks.add(own.get(own.size() - 1));
          }
        }
      } catch (IOException unreadable) {
        LOG.warn("checks in {} cannot be listed", folder, unreadable);
      }
    }
    checks.sort(Comparator.comparing(CheckRecord::at).reversed());
    return checks;
  }

  /** The newest check of a scale. */
  public Optional<CheckRecord> findLast(String scale) {
    List<CheckRecord> all = list(scale);
    return all.isEmpty() ? Optional.empty() : Optional.of(all.get(all.size() - 1));
  }

  private static Optional<CheckRecord> read(Path file) {
    try {
      return Optional.of(CheckJson.read(JSON.readTree(file.toFile())));
    } catch (IOException spoilt) {
      LOG.warn("{}: {}; left out", file, spoilt.getMessage());
      return Optional.empty();
    }
  }

  private Path folderOf(String scale) {
    String plain =
        scale.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-").replaceAll("^-|-$", "");
    String cut = plain.substring(0, Math.min(NAME_CHARACTERS, plain.length()));
    return folder.resolve(cut + "-" + hash(scale));
  }

  /** Keeps names apart that look alike once they are plain. */
  private static String hash(String scale) {
    try {
      byte[] digest =
          MessageDigest.getInstance("SHA-256").digest(scale.getBytes(StandardCharsets.UTF_8));
      return HexFormat.of().formatHex(digest, 0, HASH_BYTES);
    } catch (NoSuchAlgorithmException never) {
      throw new IllegalStateException(never);
    }
  }
}
