package pourwright.recording;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.regex.Pattern;

/** What traces and raw streams have in common: they are opened alike and told apart. */
public final class Recordings {
  private static final int SNIFFED_BYTES = 64;
  private static final Pattern TIME_AND_BYTES =
      Pattern.compile("[0-9.]+[ \\t]+[0-9a-fA-F]{2}.*", Pattern.DOTALL);

  private Recordings() {}

  /**
   * Opens a recording for reading.
   *
   * @throws BadRecording when there is no such file or it must not be read
   */
  public static InputStream open(Path file) throws IOException {
    if (Files.isDirectory(file)) {
      throw new BadRecording(file + ": is a folder; name a recording in it");
    }
    try {
      return Files.newInputStream(file);
    } catch (NoSuchFileException e) {
      throw new BadRecording(file + ": no such file");
    } catch (AccessDeniedException e) {
      throw new BadRecording(file + ": may not be read; check its permissions");
    }
  }

  /**
   * Whether this begins like a raw stream (a header, or a time and bytes) and not like a trace.
   *
   * @param in can be marked; stands where it stood afterwards
   */
  public static boolean looksRaw(InputStream in) throws IOException {
    in.mark(SNIFFED_BYTES);
    String start = new String(in.readNBytes(SNIFFED_BYTES), StandardCharsets.UTF_8);
    in.reset();
    String line = start.replace("\uFEFF", "").stripLeading();
    return line.startsWith("#") || TIME_AND_BYTES.matcher(line).matches();
  }
}
