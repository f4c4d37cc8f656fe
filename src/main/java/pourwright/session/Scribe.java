package pourwright.session;

import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.detect.PourEvent;
import pourwright.device.Chunk;
import pourwright.reading.Reading;
import pourwright.units.SessionTime;

/**
 * Writes to the journals on a thread of its own, so that a slow or full disk never holds up the
 * rehearsal. Journals do not share their trouble: each is told everything and asked to persist
 * whatever became of the others.
 */
final class Scribe implements AutoCloseable {
  /** Own choice: well within the second that may be lost. */
  private static final Duration BETWEEN_PERSISTS = Duration.ofMillis(500);

  /** How long the end of a run waits for a disk that does not answer; own choice. */
  private static final Duration LAST_PATIENCE = Duration.ofSeconds(15);

  private static final Logger LOG = LoggerFactory.getLogger(Scribe.class);

  private final List<Journal> journals;
  private final BlockingQueue<Consumer<Journal>> entries = new LinkedBlockingQueue<>();
  private final Map<Integer, String> troubles = new TreeMap<>();
  private final Thread thread;
  private volatile boolean isClosing;

  Scribe(List<Journal> journals) {
    this.journals = List.copyOf(journals);
    this.thread = new Thread(this::write, "scribe");
    thread.setDaemon(true);
    thread.start();
  }

  void begin(RunStart start) {
    entries.add(journal -> journal.begin(start));
  }

  void chunk(Stand from, Chunk chunk) {
    entries.add(journal -> journal.chunk(from, chunk));
  }

  void lost(Stand from, SessionTime at, String why) {
    entries.add(journal -> journal.lost(from, at, why));
  }

  void restored(Stand from, SessionTime at) {
    entries.add(journal -> journal.restored(from, at));
  }

  void reading(Stand from, Reading reading) {
    entries.add(journal -> journal.reading(from, reading));
  }

  void event(int lane, PourEvent event) {
    entries.add(journal -> journal.event(lane, event));
  }

  void command(SessionTime at, Command command) {
    entries.add(journal -> journal.command(at, command));
  }

  void end(Outcome outcome) {
    entries.add(journal -> journal.end(outcome));
  }

  /** What is wrong with keeping the run now, one sentence per journal; from any thread. */
  List<String> troubles() {
    synchronized (troubles) {
      return List.copyOf(troubles.values());
    }
  }

  private void write() {
    long persistedAt = System.nanoTime();
    boolean isDirty = false;
    List<Consumer<Journal>> batch = new ArrayList<>();
    while (true) {
      boolean isLast = isClosing;
      try {
        Consumer<Journal> first = entries.poll(isLast ? 0 : 100, TimeUnit.MILLISECONDS);
        if (first != null) {
          batch.add(first);
        }
      } catch (InterruptedException told) {
        isLast = true;
      }
      entries.drainTo(batch);
      batch.forEach(this::tellAll);
      isDirty |= !batch.isEmpty();
      batch.clear();
      long now = System.nanoTime();
      if (isLast || (isDirty && now - persistedAt >= BETWEEN_PERSISTS.toNanos())) {
        isDirty = !persistAll();
        persistedAt = now;
      }
      if (isLast) {
        return;
      }
    }
  }

  private void tellAll(Consumer<Journal> entry) {
    for (int i = 0; i < journals.size(); i++) {
      try {
        entry.accept(journals.get(i));
      } catch (RuntimeException bug) {
        trouble(i, "keeping the run failed: " + bug, bug);
      }
    }
  }

  /** Whether all went well. */
  private boolean persistAll() {
    boolean isSafe = true;
    for (int i = 0; i < journals.size(); i++) {
      try {
        journals.get(i).persist();
        recovered(i);
      } catch (IOException full) {
        isSafe = false;
        trouble(i, String.valueOf(full.getMessage()), full);
      } catch (RuntimeException bug) {
        isSafe = false;
        trouble(i, "keeping the run failed: " + bug, bug);
      }
    }
    return isSafe;
  }

  /** Logs it when it is news. */
  private void trouble(int journal, String message, Exception cause) {
    synchronized (troubles) {
      if (!message.equals(troubles.put(journal, message))) {
        LOG.warn(message, cause);
      }
    }
  }

  private void recovered(int journal) {
    synchronized (troubles) {
      if (troubles.remove(journal) != null) {
        LOG.info("the run is being kept again");
      }
    }
  }

  /** Writes what is left and ends; waits, but not for ever. */
  @Override
  public void close() {
    isClosing = true;
    try {
      thread.join(LAST_PATIENCE.toMillis());
    } catch (InterruptedException told) {
      Thread.currentThread().interrupt();
    }
    if (thread.isAlive()) {
      synchronized (troubles) {
        troubles.put(
            journals.size(), "the disk does not answer; the end of the run may not be kept");
      }
    }
  }
}
