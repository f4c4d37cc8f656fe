package pourwright.web;

/** What a client sent makes no sense; the message says why in one plain sentence. */
final class BadMessage extends Exception {
  private static final long serialVersionUID = 1L;

  BadMessage(String why) {
    super(why);
  }
}
