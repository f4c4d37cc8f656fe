package pourwright.record;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** File operations that failed, in plain words: the system's own are often just a file's name. */
public final class FileTrouble {
  private FileTrouble() {}

  /** One sentence that names the file, where the failure knows it. */
  public static String sentence(IOException failure) {
    @Nullable String file = failure instanceof FileSystemException system ? system.getFile() : null;
    return file == null ? String.valueOf(failure.getMessage()) : file + ": " + reason(failure);
  }

  /** What it means, as the end of a sentence. */
  public static String reason(IOException failure) {
    if (failure instanceof AccessDeniedException) {
      return "you may not read or write there; check its permissions";
    }
    if (failure instanceof FileAlreadyExistsException) {
      return "a file of that name is in the way";
    }
    if (failure instanceof NoSuchFileException) {
      return "there is no such file or folder";
    }
    @Nullable String system =
        failure instanceof FileSystemException told ? told.getReason() : failure.getMessage();
    String text = system == null ? String.valueOf(failure.getMessage()) : system;
    String plain = text.toLowerCase(Locale.ROOT);
    if (plain.contains("no space")) {
      return "the disk is full; make room there";
    }
    return plain.contains("read-only file system") ? "the disk is write-protected" : text;
  }
}
