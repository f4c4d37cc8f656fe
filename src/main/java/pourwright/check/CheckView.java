package pourwright.check;

import java.util.List;
import pourwright.units.SessionTime;

/**
 * A check at one moment; immutable.
 *
 * @param at newest reading
 * @param step the ask at hand, from 1
 * @param steps asks in all
 * @param words what to do now
 * @param shownGrams newest reading (g)
 * @param secondsLeft of a timed step, 0 otherwise (s)
 * @param beat beats of the count at hand that are over, 0 where there is none
 * @param secondsToBeat until the last beat of the count at hand, negative once it is over (s)
 * @param said all notices but counts, oldest first
 */
public record CheckView(
    SessionTime at,
    Stage stage,
    Part part,
    int step,
    int steps,
    String words,
    double shownGrams,
    double secondsLeft,
    int beat,
    double secondsToBeat,
    List<Notice> said) {

  public CheckView {
    said = List.copyOf(said);
  }
}
