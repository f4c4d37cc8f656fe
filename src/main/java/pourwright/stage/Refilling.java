package pourwright.stage;

import java.util.List;
import pourwright.stage.Apart.Busy;

/**
 * What the kettle asks of the pours, whatever else the hands do: while it is refilled and until it
 * is hot again, no water can be poured. A quick look, like {@link Crowding}: what it refuses has no
 * room, what it lets pass may have none either.
 */
final class Refilling {
  private final Work work;
  private final boolean isNeeded;
  private final int walk;
  private final int reheat;

  /** From the end of the job before until a refill is done (s). */
  private final int busy;

  /** Whether no brewer has so long a rest that the kettle could be refilled in it. */
  private final boolean isBetweenBrewers;

  Refilling(Work work, List<Rule> rules) {
    this.work = work;
    this.isNeeded =
        !work.refills.isEmpty() && rules.stream().anyMatch(Rule.KettleSuffices.class::isInstance);
    this.walk = work.leastWalk();
    this.reheat = work.routine.kettle().reheatSeconds();
    this.busy = walk + work.refillSeconds();
    this.isBetweenBrewers = isNeeded && work.longestRest() < pause();
  }

  /** Between two pours at least, when the kettle is refilled between them (s). */
  private int pause() {
    return busy + Math.max(walk, reheat);
  }

  /**
   * False when the kettle is surely empty before it could be refilled, or is to be refilled more
   * often than planned.
   *
   * @param fixed pours and lifts in order of time (s)
   */
  boolean mayFit(List<Busy> fixed) {
    if (!isNeeded) {
      return true;
    }
    int refills = 0;
    int poured = 0;
    int sinceChance = 0; // poured since the last moment for a refill, if there was one
    boolean hasChance = false;
    int free = 0;
    for (int i = 0; i < fixed.size(); i++) {
      Busy each = fixed.get(i);
      int done = free + busy;
      if (poured > 0 && done + walk <= each.offset() && done + reheat <= nextPour(fixed, i)) {
        hasChance = true;
        sinceChance = 0;
      }
      int grams = each.job().grams();
      if (poured + grams > work.usableGrams()) {
        refills++;
        if (!hasChance || refills > work.refills.size()) {
          return false;
        }
        // the latest moment is the best one
        hasChance = false;
        poured = sinceChance;
      }
      poured += grams;
      sinceChance += grams;
      free = each.offset() + each.job().seconds();
    }
    return true;
  }

  private static int nextPour(List<Busy> fixed, int from) {
    for (Busy each : fixed.subList(from, fixed.size())) {
      if (each.job().chore() == Chore.POUR) {
        return each.offset();
      }
    }
    return Integer.MAX_VALUE;
  }

  /**
   * How far the first pours of two brewers lie apart at least when all come in their order, as the
   * kettle has to be refilled between them; 0 when it need not be (s).
   *
   * @param span the same for brewers that are nearer to each other
   */
  int leastSpan(int from, int to, int[][] span) {
    return isBetweenBrewers
        ? Math.max(0, leastFirst(new int[to + 1], from, from + 1, to, span))
        : 0;
  }

  /**
   * Where the first pour of a brewer to come lies at the earliest, as the kettle has to be refilled
   * before; all come in their order.
   *
   * @param distance first pours of the brewers placed so far (s)
   * @param known how many they are
   * @param span how far the first pours of two brewers lie apart at least (s)
   * @return on the clock of {@code distance} (s); 0 or less when the kettle does not say
   */
  int leastFirst(int[] distance, int known, int later, int[][] span) {
    if (!isBetweenBrewers) {
      return 0;
    }
    int from = 0;
    int poured = distance[0] + work.lastPourEnd(0);
    for (int station = 1; station < known; station++) {
      // where it may have been refilled, it was
      from = distance[station] - poured >= pause() ? station : from;
      poured = Math.max(poured, distance[station] + work.lastPourEnd(station));
    }
    return leastFirst(distance, from, known, later, span);
  }

  /** The same when the kettle was full before the first pour of the brewer {@code from}. */
  private int leastFirst(int[] distance, int from, int known, int later, int[][] span) {
    int grams = 0;
    int poured = 0;
    int least = Integer.MAX_VALUE;
    for (int last = from; last <= later; last++) {
      grams += work.grams(last);
      if (grams > work.usableGrams()) {
        return least == Integer.MAX_VALUE ? 0 : least;
      }
      int first = last < known ? distance[last] : distance[known - 1] + span[known - 1][last];
      poured = Math.max(poured, first + work.lastPourEnd(last));
      if (last >= known - 1 && last < later) {
        least = Math.min(least, poured + pause() + span[last + 1][later]);
      }
    }
    return 0;
  }

  /** The earliest moment for a next brewer once the kettle was refilled after those placed (s). */
  int afterRefill(int[] distance, int known) {
    int poured = 0;
    for (int station = 0; station < known; station++) {
      poured = Math.max(poured, distance[station] + work.lastPourEnd(station));
    }
    return poured + pause();
  }

  boolean isBetweenBrewers() {
    return isBetweenBrewers;
  }
}
