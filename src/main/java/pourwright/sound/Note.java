package pourwright.sound;

/**
 * One tone of a signal.
 *
 * @param atMillis when it begins, after the start of the signal (ms)
 * @param forMillis how long it sounds (ms)
 * @param hertz pitch of its fundamental (Hz)
 */
public record Note(int atMillis, int forMillis, double hertz) {
  int endMillis() {
    return atMillis + forMillis;
  }
}
