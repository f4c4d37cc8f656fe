package pourwright.session;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReentrantLock;
import java.util.stream.Collectors;
import pourwright.device.Scale.Heard;
import pourwright.units.SessionTime;

/**
 * Where all that is heard and told waits for the one thread that acts on it.
 *
 * <p>What several scales of one lane say is handed out in the order in which it happened, so that a
 * live run and a replay of its files take the same course: a message waits until every other scale
 * of the lane has been heard up to its time, which a quiet line is too, every {@link Ear#PATIENCE}.
 * Scales that play a recording are kept in step across lanes as well, and are held back while the
 * rehearsal is behind. What the brewer says goes first.
 */
final class Inbox {
  /** Messages of a played scale that may wait; own choice, a few seconds of a fast scale. */
  static final int PLAYED_AHEAD = 256;

  /** All played scales keep in step with each other; lanes count from 1. */
  private static final int PLAYED_GROUP = 0;

  private final Lock lock = new ReentrantLock();
  private final Condition changed = lock.newCondition();
  private final ArrayDeque<Command> commands = new ArrayDeque<>();
  private final List<Line> lines;

  /** What one scale has said and nobody has taken yet. */
  private static final class Line {
    final Stand stand;
    final boolean isPlayed;
    final int group;
    final ArrayDeque<Heard> waiting = new ArrayDeque<>();
    SessionTime heardUpTo = SessionTime.ofNanos(Long.MIN_VALUE);
    boolean isOver;

    Line(PlacedScale scale) {
      stand = scale.stand();
      isPlayed = scale.isPlayed();
      group = isPlayed ? PLAYED_GROUP : stand.lane();
    }

    Heard head() {
      return waiting.getFirst();
    }
  }

  Inbox(List<PlacedScale> scales) {
    lines = scales.stream().map(Line::new).collect(Collectors.toList());
  }

  /** Waits while a played scale is too far ahead. */
  void put(Stand from, Heard heard) throws InterruptedException {
    lock.lockInterruptibly();
    try {
      Line line = lineOf(from);
      while (line.isPlayed && line.waiting.size() >= PLAYED_AHEAD) {
        changed.await();
      }
      line.waiting.add(heard);
      line.heardUpTo = heard.at();
      line.isOver |= heard instanceof Heard.Over;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  void put(Command command) {
    lock.lock();
    try {
      commands.add(command);
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /** The next message; empty when there is none within {@code patience}. */
  Optional<Message> take(Duration patience) throws InterruptedException {
    long nanosLeft = patience.toNanos();
    lock.lockInterruptibly();
    try {
      while (true) {
        Command command = commands.poll();
        if (command != null) {
          return Optional.of(new Message.FromBrewer(command));
        }
        Optional<Line> line =
            lines.stream()
                .filter(each -> !each.waiting.isEmpty() && isItsTurn(each))
                .min(Comparator.comparing(each -> each.head().at()));
        if (line.isPresent()) {
          Heard heard = line.get().waiting.removeFirst();
          changed.signalAll();
          return Optional.of(new Message.FromScale(line.get().stand, heard));
        }
        if (nanosLeft <= 0) {
          return Optional.empty();
        }
        nanosLeft = changed.awaitNanos(nanosLeft);
      }
    } finally {
      lock.unlock();
    }
  }

  /** Whether nothing earlier can still come from a line that must keep in step with it. */
  private boolean isItsTurn(Line line) {
    SessionTime at = line.head().at();
    for (Line other : lines) {
      if (other == line || other.group != line.group) {
        continue;
      }
      if (other.waiting.isEmpty()) {
        if (!other.isOver && other.heardUpTo.isBefore(at)) {
          return false;
        }
      } else if (other.head().at().isBefore(at)) {
        return false;
      }
    }
    return true;
  }

  private Line lineOf(Stand stand) {
    return lines.stream()
        .filter(line -> line.stand.equals(stand))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no scale stands at " + stand.word()));
  }
}
