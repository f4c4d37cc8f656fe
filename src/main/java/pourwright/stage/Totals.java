package pourwright.stage;

import java.util.HashMap;
import java.util.Map;

/** Water in each brewer after each of its pours, as it stands on the scale. */
public final class Totals {
  /** Said on everything that is taken on stage. */
  public static final String SAFETY =
      "Boiling water and steam burn: stand the kettle safe, keep cables and mains dry, stop if"
          + " something spills.";

  private final Map<Job, Double> after = new HashMap<>();

  private Totals() {}

  public static Totals of(Timetable timetable) {
    Totals totals = new Totals();
    Map<Integer, Double> poured = new HashMap<>();
    for (Timetable.Slot slot : timetable.slots()) {
      Job job = slot.job();
      if (job.chore() == Chore.POUR) {
        totals.after.put(job, poured.merge(job.station(), job.water().grams(), Double::sum));
      }
    }
    return totals;
  }

  /**
   * All water of this brewer up to the end of a pour (g).
   *
   * @throws IllegalArgumentException when the job is no pour of the timetable
   */
  public double after(Job pour) {
    Double grams = after.get(pour);
    if (grams == null) {
      throw new IllegalArgumentException("no pour of this timetable: " + pour.words());
    }
    return grams;
  }
}
