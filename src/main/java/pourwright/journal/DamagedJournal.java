package pourwright.journal;

import java.io.IOException;

/** The file is no journal, or not one any more; the message is one sentence for the brewer. */
public final class DamagedJournal extends IOException {
  private static final long serialVersionUID = 1L;

  DamagedJournal(String message, Throwable cause) {
    super(message, cause);
  }
}
