package pourwright.stage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Chooses among timetables the one that fares best when the brewer scatters. The candidates are the
 * best timetables of a brewer who takes some seconds longer for every chore and walk, from none on:
 * what they leave free between the jobs takes up lateness.
 */
public final class Sturdy {
  /** Seconds put on every chore and walk, tried one after the other; own choice. */
  private static final int[] MARGINS = {0, 1, 2, 3, 4};

  private Sturdy() {}

  /**
   * A timetable and how it fares.
   *
   * @param marginSeconds put on every chore and walk
   */
  public record Candidate(int marginSeconds, Outcome.Planned planned, Odds odds) {}

  /**
   * The candidates that can be planned, best first: by the chance that all goes well, then by that
   * to end in time, then the smaller margin.
   *
   * @param seed the same for all, so that they meet the same luck
   */
  public static List<Candidate> listBestFirst(
      Routine routine, Spreads spreads, long seed, int trials, Patience patience) {
    List<Candidate> candidates = new ArrayList<>();
    for (int i = 0; i < MARGINS.length; i++) {
      Routine slower = routine.withHands(routine.hands().slower(MARGINS[i]));
      Outcome outcome = StageSolver.solve(slower, patience.share(MARGINS.length - i));
      if (outcome instanceof Outcome.Planned planned) {
        Odds odds = Odds.of(planned.timetable(), routine, spreads, seed, trials);
        candidates.add(new Candidate(MARGINS[i], planned, odds));
      }
    }
    candidates.sort(
        Comparator.comparingInt((Candidate one) -> -one.odds().allInside())
            .thenComparingInt(one -> -one.odds().inTime())
            .thenComparingInt(Candidate::marginSeconds));
    return candidates;
  }

  /** The best of {@link #listBestFirst}. */
  public static Optional<Candidate> findBest(
      Routine routine, Spreads spreads, long seed, int trials, Patience patience) {
    return listBestFirst(routine, spreads, seed, trials, patience).stream().findFirst();
  }
}
