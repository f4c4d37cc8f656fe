package pourwright.coach;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * How much the brewer is told during a run.
 *
 * <p>Constant feedback helps the run and hurts what stays of it; less of it (Winstein &amp;
 * Schmidt, J. Exp. Psychol. LMC 16, 1990), only outside a band (Sherwood, Percept. Mot. Skills 66,
 * 1988), or after an own estimate (Guadagnoli &amp; Kohl, J. Mot. Behav. 33, 2001) stays better.
 * Citations from memory; the numbers below are ours.
 */
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

  /** Of the pours of the first run under fading feedback all are guided, of the next 10 % less. */
  private static final double FADED_PER_RUN = 0.1;

  /** Fading stops here: some truth is needed to keep the scale of one's own feeling. */
  private static final double FADED_SHARE_MIN = 0.2;

  /**
   * Whether a cue may be said.
   *
   * @param outside whether it is about something that is, or is about to be, out of tolerance
   * @param guided whether its pour is a guided one under fading feedback, see {@link #isGuided}
   */
  public boolean admits(Cue.Kind kind, boolean outside, boolean guided) {
    if (kind == Cue.Kind.LINK_LOST || kind == Cue.Kind.LINK_BACK) {
      return true; // not about the pour, but about whether it is recorded
    }
    return switch (this) {
      case FULL -> true;
      case BANDWIDTH -> outside || kind == Cue.Kind.TALK || kind == Cue.Kind.DONE;
      case FADED -> guided;
      case BLIND -> false;
    };
  }

  /** Whether the figures may be shown; same arguments as {@link #admits}. */
  public boolean shows(boolean outside, boolean guided) {
    return switch (this) {
      case FULL -> true;
      case BANDWIDTH -> outside;
      case FADED -> guided;
      case BLIND -> false;
    };
  }

  /**
   * Whether a pour is guided in a run under fading feedback. The share falls by a tenth from run to
   * run, down to a fifth; guided pours are spread evenly, and over other pours in the next run.
   *
   * @param run runs made under fading feedback before, from 0
   * @param pour planned pour, from 1
   */
  public static boolean isGuided(int run, int pour) {
    double share = Math.max(FADED_SHARE_MIN, 1 - FADED_PER_RUN * run);
    int place = pour + run;
    return Math.floor(place * share + 1e-9) > Math.floor((place - 1) * share + 1e-9);
  }
}
