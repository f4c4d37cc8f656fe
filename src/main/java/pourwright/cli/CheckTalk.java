package pourwright.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Timer;
import java.util.TimerTask;
import pourwright.check.CheckView;
import pourwright.check.Notice;
import pourwright.check.Part;
import pourwright.check.Stage;

/** A check on the terminal: what to do, what came of it, and the weight as it is. */
final class CheckTalk implements AutoCloseable {
  private static final String BELL = "\007";
  private static final String CLEAR_LINE = "\r\033[K";
  private static final long LIVE_NANOS = 150_000_000;

  private final PrintWriter err;
  private final boolean isLive;
  private final Timer beats = new Timer("beats", true);
  private Part part = Part.QUIET;
  private int step;
  private long lastLive;
  private boolean hasLiveLine;

  /**
   * @param isLive whether the terminal can rewrite a line
   */
  CheckTalk(PrintWriter err, boolean isLive) {
    this.err = err;
    this.isLive = isLive;
  }

  synchronized void say(List<Notice> notices, CheckView view, double speed) {
    for (Notice notice : notices) {
      if (notice.kind() == Notice.Kind.COUNT) {
        count(speed);
        continue;
      }
      clearLive();
      if (notice.kind() == Notice.Kind.ASK && (step == 0 || part != view.part())) {
        err.println();
        err.println(view.part().title() + ": finds " + view.part().finds());
      }
      part = view.part();
      switch (notice.kind()) {
        case ASK -> {
          step = view.step();
          err.printf(Locale.ROOT, "%3d/%d  %s%n", step, view.steps(), notice.text());
        }
        case TAKEN, DONE, STOP -> err.println("        " + notice.text());
        default -> err.println("     !  " + notice.text());
      }
      err.flush();
    }
    if (isLive && System.nanoTime() - lastLive > LIVE_NANOS && view.stage() != Stage.DONE) {
      lastLive = System.nanoTime();
      hasLiveLine = true;
      err.printf(
          Locale.ROOT,
          CLEAR_LINE + "        %8.2f g  %s%s",
          view.shownGrams(),
          word(view.stage()),
          view.secondsLeft() > 0
              ? String.format(Locale.ROOT, ", %.0f s left", view.secondsLeft())
              : "");
      err.flush();
    }
  }

  private static String word(Stage stage) {
    return switch (stage) {
      case WAITING -> "waiting for you";
      case SETTLING -> "comes to rest";
      case MEASURING -> "measuring, hands off";
      case UNDOING -> "put it right first";
      case BLIND -> "no readings";
      case DONE -> "done";
    };
  }

  private void count(double speed) {
    if (speed <= 0) {
      return;
    }
    for (int beat = 1; beat <= Notice.BEATS; beat++) {
      String word = beat < Notice.BEATS ? String.valueOf(beat) : "OFF";
      long millis = Math.round(1000 * beat * Notice.BEAT_SECONDS / speed);
      beats.schedule(
          new TimerTask() {
            @Override
            public void run() {
              beat(word);
            }
          },
          millis);
    }
  }

  private synchronized void beat(String word) {
    clearLive();
    err.print((isLive ? BELL : "") + "        " + word + System.lineSeparator());
    err.flush();
  }

  private void clearLive() {
    if (hasLiveLine) {
      err.print(CLEAR_LINE);
      hasLiveLine = false;
    }
  }

  @Override
  public synchronized void close() {
    clearLive();
    err.flush();
    beats.cancel();
  }
}
