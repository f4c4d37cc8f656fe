package pourwright.cli;

import java.util.ArrayList;
import java.util.List;
import pourwright.roving.Turn;
import pourwright.stage.Chore;
import pourwright.stage.Job;
import pourwright.stage.Timetable;
import pourwright.units.Mass;

/** Where one scale stands through a timetable. */
final class ScaleMoves {
  private ScaleMoves() {}

  /** Pours of one brewer that follow each other are one stay. */
  static List<Turn> turns(Timetable timetable) {
    List<Turn> turns = new ArrayList<>();
    int here = Job.NO_STATION;
    for (Timetable.Slot slot : timetable.slots()) {
      Job job = slot.job();
      if (job.chore() != Chore.POUR) {
        continue;
      }
      if (job.station() == here) {
        Turn before = turns.remove(turns.size() - 1);
        Mass water = before.water().plus(job.water());
        turns.add(new Turn(before.lane(), before.pours() + 1, water, job.water()));
      } else {
        turns.add(new Turn(job.station() + 1, 1, job.water(), job.water()));
        here = job.station();
      }
    }
    return turns;
  }
}
