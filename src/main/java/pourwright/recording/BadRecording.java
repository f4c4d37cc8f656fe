package pourwright.recording;

import java.io.IOException;

/** A file that cannot be read as what it should be; the message is one line for the brewer. */
public final class BadRecording extends IOException {
  private static final long serialVersionUID = 1L;

  /**
   * A file that cannot be used.
   *
   * @param message one line: what file, what is wrong, what would be right
   */
  public BadRecording(String message) {
    super(message);
  }

  /**
   * @param name what the brewer calls the file
   * @param line counts from 1
   * @param problem what is wrong there and what would be right
   */
  static BadRecording at(String name, long line, String problem) {
    return new BadRecording(name + " line " + line + ": " + problem);
  }
}
