package pourwright.cli;

import java.util.Locale;
import pourwright.plan.Plan;
import pourwright.plan.Schedule;
import pourwright.plan.Start;

/** A plan as lines of text. */
final class PlanText {
  private PlanText() {}

  static String of(Schedule schedule) {
    Plan plan = schedule.plan();
    StringBuilder text = new StringBuilder();
    text.append(plan.title()).append('\n');
    text.append(
        String.format(
            Locale.ROOT,
            "%.1f g coffee, %.0f g water (1:%.1f), rig %s%n%n",
            plan.dose().grams(),
            plan.water().grams(),
            plan.water().grams() / plan.dose().grams(),
            plan.rig().word()));
    text.append(
        String.format(
            Locale.ROOT,
            "%4s  %8s  %8s  %9s  %9s  %s%n",
            "pour",
            "start",
            "end",
            "add",
            "total",
            "begin"));
    for (Schedule.Slot slot : schedule.slots()) {
      text.append(
          String.format(
              Locale.ROOT,
              "%4d  %8s  %8s  %7.0f g  %7.0f g  %s%n",
              slot.pour().index(),
              Words.clock(slot.start()),
              Words.clock(slot.end()),
              slot.pour().add().grams(),
              slot.to().grams(),
              begin(slot.pour().start())));
    }
    return text.toString().stripTrailing();
  }

  private static String begin(Start start) {
    if (start instanceof Start.AtClock) {
      return "by the clock";
    }
    if (start instanceof Start.AfterEnd after) {
      return Words.seconds(after.gap()) + " after the pour before";
    }
    return "when drained";
  }
}
