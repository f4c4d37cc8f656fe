package pourwright.session;

import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Brings views to one audience on a thread of its own; the newest replaces one not yet brought. */
final class Courier implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Courier.class);
  private static final long LAST_PATIENCE_MILLIS = 2_000;

  private final Audience audience;
  private final Thread thread;
  private @Nullable RehearsalView waiting;
  private @Nullable Outcome outcome;
  private boolean isClosed;

  Courier(Audience audience) {
    this.audience = audience;
    this.thread = new Thread(this::carry, "courier to " + audience.getClass().getSimpleName());
    thread.setDaemon(true);
    thread.start();
  }

  synchronized void bring(RehearsalView view) {
    waiting = view;
    notifyAll();
  }

  synchronized void conclude(Outcome result) {
    outcome = result;
    notifyAll();
  }

  private void carry() {
    while (true) {
      RehearsalView view;
      Outcome result;
      synchronized (this) {
        while (waiting == null && outcome == null && !isClosed) {
          try {
            wait();
          } catch (InterruptedException told) {
            return;
          }
        }
        view = waiting;
        result = outcome;
        waiting = null;
        outcome = null;
        if (view == null && result == null) {
          return;
        }
      }
      try {
        if (view != null) {
          audience.see(view);
        }
        if (result != null) {
          audience.conclude(result);
        }
      } catch (RuntimeException bug) {
        LOG.error("showing the rehearsal failed", bug);
      }
    }
  }

  /** Brings what is waiting and ends. */
  @Override
  public void close() {
    synchronized (this) {
      isClosed = true;
      notifyAll();
    }
    try {
      thread.join(LAST_PATIENCE_MILLIS);
    } catch (InterruptedException told) {
      Thread.currentThread().interrupt();
    }
  }
}
