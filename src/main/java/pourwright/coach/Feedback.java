package pourwright.coach;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** How much the brewer is told during a run. */
public enum Feedback {
  /** Everything, all the time. */
  FULL,
  /** Only what leaves the plan's tolerance. */
  BANDWIDTH,
  /** Fewer cues from run to run. */
  FADED,
  /** Nothing; the brewer guesses first and sees the truth after. */
  BLIND;

  /** As written on the command line and in files. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<Feedback> findByWord(String word) {
    return List.of(values()).stream().filter(kind -> kind.word().equals(word)).findFirst();
  }
}
