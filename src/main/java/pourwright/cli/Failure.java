package pourwright.cli;

import java.io.IOException;
import pourwright.record.FileTrouble;

/** Why a command could not do its work; the message is one line for the brewer. */
final class Failure extends Exception {
  private static final long serialVersionUID = 1L;

  Failure(String message) {
    super(message);
  }

  Failure(String message, Throwable cause) {
    super(message, cause);
  }

  /** A file operation that failed with a message nobody wrote for people. */
  static Failure of(String file, IOException cause) {
    return new Failure(file + ": " + FileTrouble.reason(cause), cause);
  }

  /** Something that failed with a sentence for people, or with the system's own words. */
  static Failure of(IOException cause) {
    return new Failure(FileTrouble.sentence(cause), cause);
  }
}
