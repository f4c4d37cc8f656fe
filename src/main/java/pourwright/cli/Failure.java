package pourwright.cli;

import java.io.IOException;

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
    return new Failure(file + ": cannot be read or written (" + cause.getMessage() + ")", cause);
  }
}
