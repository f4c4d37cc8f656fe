package pourwright.journal;

import java.io.IOException;

/** What is kept of a run makes no sense any more, though the file around it is whole. */
final class UnreadableRun extends IOException {
  private static final long serialVersionUID = 1L;

  UnreadableRun(String message, Throwable cause) {
    super(message, cause);
  }
}
