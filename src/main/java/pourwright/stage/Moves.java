package pourwright.stage;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import pourwright.units.Mass;

/**
 * The one scale that is moved from brewer to brewer: which moves a timetable needs, and where they
 * find no time.
 */
public final class Moves {
  /** More than there can be between the pours of eight brewers. */
  static final int MOST = 1_000;

  private Moves() {}

  /**
   * A pour before which the scale cannot be there.
   *
   * @param freeSeconds longest time the hands are free for since the pour before
   */
  public record Tight(Timetable.Slot pour, int freeSeconds) {}

  /**
   * The move before a pour.
   *
   * @param number of the move, so that no two are the same job
   */
  static Job job(Work work, int number, Job pour) {
    return new Job(
        work.jobs.size() + number,
        Chore.MOVE_SCALE,
        pour.station(),
        pour.pour(),
        work.routine.hands().scale(),
        Mass.ZERO,
        Chore.MOVE_SCALE.words());
  }

  /** The same move as long as it really takes. */
  static Job real(Work work, Job move) {
    return job(work, move.id() - work.jobs.size(), move);
  }

  /** A timetable with those moves that have their place already. */
  static Timetable with(Timetable table, Map<Job, Integer> starts) {
    return table.with(
        starts.entrySet().stream()
            .filter(start -> start.getKey().chore() == Chore.MOVE_SCALE)
            .map(start -> new Timetable.Slot(start.getKey(), start.getValue()))
            .toList());
  }

  /** A timetable with a move wherever there is time for it. */
  static Timetable between(Timetable table, Work work) {
    int seconds = work.routine.hands().scale();
    List<Timetable.Slot> moves = new ArrayList<>();
    if (seconds > 0) {
      for (Stretch free : stretches(table)) {
        if (free.seconds() >= seconds) {
          moves.add(
              new Timetable.Slot(
                  job(work, moves.size(), free.pour().job()), free.until() - seconds));
        }
      }
    }
    return table.with(moves);
  }

  /** Every pour to which the scale cannot be brought in so many seconds. */
  public static List<Tight> listTight(Timetable table, int seconds) {
    return stretches(table).stream()
        .filter(free -> free.seconds() < seconds)
        .map(free -> new Tight(free.pour(), Math.max(0, free.seconds())))
        .toList();
  }

  /** The longest time of free hands between two pours of different brewers. */
  private record Stretch(Timetable.Slot pour, int from, int until) {
    int seconds() {
      return until - from;
    }
  }

  private static List<Stretch> stretches(Timetable table) {
    List<Stretch> stretches = new ArrayList<>();
    Optional<Timetable.Slot> before = Optional.empty();
    @Nullable Stretch longest = null;
    int freeSince = 0;
    boolean isMoved = false;
    for (Timetable.Slot slot : table.slots()) {
      Chore chore = slot.job().chore();
      if (longest == null || slot.startSeconds() - freeSince > longest.seconds()) {
        longest = new Stretch(slot, freeSince, slot.startSeconds());
      }
      isMoved |= chore == Chore.MOVE_SCALE;
      freeSince = Math.max(freeSince, slot.endSeconds());
      if (chore == Chore.POUR) {
        boolean isOther =
            before.filter(last -> last.job().station() != slot.job().station()).isPresent();
        if (isOther && !isMoved) {
          stretches.add(new Stretch(slot, longest.from(), longest.until()));
        }
        before = Optional.of(slot);
        longest = null;
        isMoved = false;
      }
    }
    return stretches;
  }
}
