package pourwright.web;

import java.util.Optional;

/**
 * The part of the program behind one page beside the rehearsal: it is asked, and answers. Knows
 * nothing of HTTP but paths; who may ask has been settled at the door. Asked by several threads.
 */
public interface Desk {

  /** The answer, or empty when this desk does not know the path. */
  Optional<Answer> answer(Question question);
}
