package pourwright.cli;

import java.util.ArrayList;
import java.util.List;
import pourwright.simulate.Moments;
import pourwright.stage.Chore;
import pourwright.stage.Timetable;

/** One pair of hands that serves simulated brewers when the timetable says. */
final class SimulatedHands {
  private SimulatedHands() {}

  /** When the hands are at each brewer, for simulated brewers to be there too. */
  static List<Moments> of(Timetable timetable, int brewers) {
    List<Moments> hands = new ArrayList<>();
    double zero = timetable.startOf(slot -> slot.job().chore() == Chore.POUR);
    for (int i = 0; i < brewers; i++) {
      int station = i;
      hands.add(
          new Moments(
              timetable.slots().stream()
                  .filter(slot -> slot.job().station() == station)
                  .filter(slot -> slot.job().chore() == Chore.POUR)
                  .map(slot -> slot.startSeconds() - zero)
                  .toList(),
              timetable.startOf(
                      slot -> slot.job().station() == station && slot.job().chore() == Chore.LIFT)
                  - zero));
    }
    return hands;
  }
}
