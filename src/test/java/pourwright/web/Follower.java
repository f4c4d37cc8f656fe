package pourwright.web;

import java.util.List;
import org.jspecify.annotations.Nullable;
import pourwright.session.Audience;
import pourwright.session.Outcome;
import pourwright.session.Rehearsal;
import pourwright.session.RehearsalView;

/**
 * Hears of every view of a rehearsal right after the page, which gets it from here, so that a test
 * can wait for one. Audiences of their own would hear in any order.
 */
public final class Follower implements Audience {
  private static final long PATIENCE_MILLIS = 120_000;

  private final List<Audience> pages;
  private @Nullable RehearsalView newest;
  private boolean isOver;

  public Follower(Audience... pages) {
    this.pages = List.of(pages);
  }

  /** Runs a rehearsal that this one follows, on a thread of its own; an interrupt ends it. */
  public Thread follow(Rehearsal rehearsal) {
    synchronized (this) {
      newest = null;
      isOver = false;
    }
    Thread thread =
        new Thread(
            () -> {
              try {
                rehearsal.run();
              } catch (InterruptedException told) {
                Thread.currentThread().interrupt();
              }
            },
            "rehearsal");
    thread.setDaemon(true);
    thread.start();
    return thread;
  }

  @Override
  public void see(RehearsalView view) {
    pages.forEach(page -> page.see(view));
    synchronized (this) {
      newest = view;
      notifyAll();
    }
  }

  @Override
  public void conclude(Outcome outcome) {
    pages.forEach(page -> page.conclude(outcome));
    synchronized (this) {
      isOver = true;
      notifyAll();
    }
  }

  /** The newest view; waits for the first. */
  public synchronized RehearsalView last() throws InterruptedException {
    await(0);
    RehearsalView view = newest;
    if (view == null) {
      throw new AssertionError("the run showed nothing");
    }
    return view;
  }

  /** Waits until a view of this moment (s) was shown, or the run is over. */
  public synchronized void await(double seconds) throws InterruptedException {
    long deadline = System.currentTimeMillis() + PATIENCE_MILLIS;
    while (!isOver && (newest == null || newest.at().seconds() < seconds)) {
      long left = deadline - System.currentTimeMillis();
      if (left <= 0) {
        throw new AssertionError("the run never came to " + seconds + " s");
      }
      wait(left);
    }
  }
}
