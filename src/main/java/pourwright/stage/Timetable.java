package pourwright.stage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Predicate;

/**
 * When each job begins.
 *
 * @param slots in order of time
 * @param lateSeconds by which pours and lifts are off their moments, all together
 * @param apartSeconds from the first cup served to the last
 * @param endSeconds when the last job is done
 */
public record Timetable(List<Slot> slots, int lateSeconds, int apartSeconds, int endSeconds) {

  public Timetable {
    slots = List.copyOf(slots);
  }

  /** A job and the second at which it begins. */
  public record Slot(Job job, int startSeconds) {
    public int endSeconds() {
      return startSeconds + job.seconds();
    }
  }

  /** The same with more jobs for the hands, which change nothing of its wishes. */
  Timetable with(List<Slot> more) {
    List<Slot> all = new ArrayList<>(slots);
    all.addAll(more);
    all.sort(Comparator.comparingInt(Slot::startSeconds).thenComparing(slot -> slot.job().id()));
    return new Timetable(all, lateSeconds, apartSeconds, endSeconds);
  }

  /**
   * When the first of the jobs asked for begins (s).
   *
   * @throws java.util.NoSuchElementException when there is none
   */
  public int startOf(Predicate<Slot> wanted) {
    return slots.stream().filter(wanted).findFirst().orElseThrow().startSeconds();
  }

  /**
   * When a brewer's first pour begins (s).
   *
   * @param station from 0
   */
  public int firstPourOf(int station) {
    return startOf(slot -> slot.job().chore() == Chore.POUR && slot.job().station() == station);
  }

  /** What it comes to in the terms of a wish (s). */
  public int seconds(Wish wish) {
    return switch (wish) {
      case ON_TIME -> lateSeconds;
      case TOGETHER -> apartSeconds;
      case SHORT -> endSeconds;
    };
  }
}
