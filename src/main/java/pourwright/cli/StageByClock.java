package pourwright.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jline.utils.Signals;
import pourwright.journal.JournalFile;
import pourwright.stage.Chore;
import pourwright.stage.Clock;
import pourwright.stage.Job;
import pourwright.stage.Timetable;
import pourwright.stage.Totals;

/** A mock run without scales: the clock starts by itself, and each job is said as it comes due. */
final class StageByClock {
  private static final int LOOK_MILLIS = 50;

  private final Staged staged;
  private final Timetable timetable;
  private final StageClock clock;
  private final PrintWriter err;

  /**
   * @param speed times as fast as life
   */
  StageByClock(Staged staged, Timetable timetable, double speed, PrintWriter err) {
    this.staged = staged;
    this.timetable = timetable;
    this.clock = new StageClock(System::nanoTime, speed);
    this.err = err;
  }

  /**
   * Runs to the end of the timetable, or until a signal ends it.
   *
   * @param countdown before the clock starts (s)
   */
  void run(RehearsalOptions run, int countdown) throws Failure, InterruptedException {
    CountDownLatch stopped = new CountDownLatch(1);
    for (String signal : List.of("INT", "TERM", "HUP")) {
      Signals.register(signal, stopped::countDown);
    }
    try (JournalFile journal = OpenJournal.in(run.data(), err)) {
      Optional<LocalPage> page =
          LocalPage.open(run.page(), Desks.with(journal, new StageDesk(staged, clock)), err);
      try {
        page.ifPresent(shown -> err.println("stage: " + shown.address().resolve("/stage")));
        play(countdown, stopped);
      } finally {
        page.ifPresent(LocalPage::close);
      }
    }
  }

  /** Counts down, then says each job as it comes due, until all are done or the brewer ends it. */
  private void play(int countdown, CountDownLatch stopped) throws InterruptedException {
    for (int left = countdown; left > 0; left--) {
      err.println("the clock starts in " + left);
      err.flush();
      if (stopped.await((long) (1_000 / clock.speed()), TimeUnit.MILLISECONDS)) {
        return;
      }
    }
    clock.start();
    Totals totals = Totals.of(timetable);
    List<Timetable.Slot> slots = timetable.slots();
    int told = 0;
    while (told < slots.size() || clock.seconds().orElse(0) < timetable.endSeconds()) {
      double now = clock.seconds().orElse(0);
      while (told < slots.size() && slots.get(told).startSeconds() <= now) {
        Timetable.Slot slot = slots.get(told);
        told++;
        String next =
            told < slots.size()
                ? "   next " + due(slots.get(told)) + " " + words(slots.get(told), totals)
                : "";
        err.println(due(slot) + "  " + words(slot, totals) + next);
        err.flush();
      }
      if (stopped.await(LOOK_MILLIS, TimeUnit.MILLISECONDS)) {
        return;
      }
    }
    err.println(
        Clock.words(timetable.endSeconds())
            + "  done; the limit is "
            + Clock.words(staged.file().routine().limitSeconds()));
    err.flush();
    clock.stop();
  }

  private static String due(Timetable.Slot slot) {
    return Clock.words(slot.startSeconds());
  }

  private String words(Timetable.Slot slot, Totals totals) {
    Job job = slot.job();
    String who = job.station() < 0 ? "" : StageText.nameOf(staged, job.station()) + ": ";
    if (job.chore() == Chore.SPEAK) {
      return "say \"" + job.words() + "\"";
    }
    return who
        + job.words()
        + (job.chore() == Chore.POUR
            ? String.format(Locale.ROOT, " to %.0f g", totals.after(job))
            : "");
  }
}
