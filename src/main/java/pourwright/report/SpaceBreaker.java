package pourwright.report;

import com.openhtmltopdf.extend.FSTextBreaker;

/** Breaks lines at spaces only, so that no number is torn at its point or its sign. */
final class SpaceBreaker implements FSTextBreaker {
  private static final int DONE = -1;

  private String text = "";
  private int at;

  @Override
  public void setText(String newText) {
    text = newText;
    at = 0;
  }

  @Override
  public int next() {
    if (at >= text.length()) {
      return DONE;
    }
    int end = text.indexOf(' ', at);
    while (end >= 0 && end + 1 < text.length() && text.charAt(end + 1) == ' ') {
      end++;
    }
    at = end < 0 ? text.length() : end + 1;
    return at;
  }
}
