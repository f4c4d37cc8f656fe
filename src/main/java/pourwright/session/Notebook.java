package pourwright.session;

import java.io.IOException;

/** Keeps what the brewer adds to a finished run. */
public interface Notebook {
  /**
   * Keeps it beside the run; a later afterword of the same lane replaces an earlier one.
   *
   * @throws IOException when it cannot be kept; the message is one plain sentence
   */
  void keep(Afterword afterword) throws IOException;
}
