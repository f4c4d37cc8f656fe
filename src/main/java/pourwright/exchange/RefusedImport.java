package pourwright.exchange;

import java.io.IOException;

/** What was to be imported is not what it should be; the message is one sentence for the brewer. */
public final class RefusedImport extends IOException {
  private static final long serialVersionUID = 1L;

  RefusedImport(String message) {
    super(message);
  }

  RefusedImport(String message, Throwable cause) {
    super(message, cause);
  }
}
