package pourwright.builder;

/** What the page sent makes no sense; the message says why in one plain sentence. */
final class BadDraft extends Exception {
  private static final long serialVersionUID = 1L;

  BadDraft(String why) {
    super(why);
  }
}
