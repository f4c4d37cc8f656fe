package pourwright.device.protocol;

/** A profile that cannot be used; the message names the file, line, column and what is right. */
public final class InvalidProfileException extends Exception {
  private static final long serialVersionUID = 1L;

  public InvalidProfileException(String message) {
    super(message);
  }
}
