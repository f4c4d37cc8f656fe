package pourwright.check;

/** Where on the pan a load stands. */
public enum Spot {
  CENTRE("in the middle", 0, 0),
  FRONT_LEFT("halfway to the front left corner", -1, -1),
  FRONT_RIGHT("halfway to the front right corner", 1, -1),
  BACK_RIGHT("halfway to the back right corner", 1, 1),
  BACK_LEFT("halfway to the back left corner", -1, 1);

  private final String words;
  private final int right;
  private final int back;

  Spot(String words, int right, int back) {
    this.words = words;
    this.right = right;
    this.back = back;
  }

  public String words() {
    return words;
  }

  /** −1 left, 0 middle, 1 right. */
  public int right() {
    return right;
  }

  /** −1 front, 0 middle, 1 back. */
  public int back() {
    return back;
  }
}
