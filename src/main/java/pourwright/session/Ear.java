package pourwright.session;

import java.time.Duration;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.device.Scale;
import pourwright.device.Scale.Heard;
import pourwright.units.SessionTime;

/** Listens to one scale on a thread of its own and puts what it hears into the inbox. */
final class Ear implements AutoCloseable {
  /** Longest wait of a quiet line, and so the longest that scales of one lane wait for another. */
  static final Duration PATIENCE = Duration.ofMillis(25);

  private static final Logger LOG = LoggerFactory.getLogger(Ear.class);

  private final Stand stand;
  private final Supplier<Stand> keptAt;
  private final Scale scale;
  private final Inbox inbox;
  private final Scribe scribe;
  private final Thread thread;

  /**
   * @param keptAt with which stand what is heard is kept; that of the scale, unless it is moved
   */
  Ear(PlacedScale placed, Supplier<Stand> keptAt, Inbox inbox, Scribe scribe) {
    this.stand = placed.stand();
    this.keptAt = keptAt;
    this.scale =
        new Scale(
            placed.transport(),
            placed.decoder(),
            placed.commands(),
            chunk -> scribe.chunk(keptAt.get(), chunk));
    this.inbox = inbox;
    this.scribe = scribe;
    this.thread = new Thread(this::listen, "ear " + stand.word());
    thread.setDaemon(true);
  }

  void start() {
    thread.start();
  }

  Stand stand() {
    return stand;
  }

  Scale scale() {
    return scale;
  }

  private void listen() {
    SessionTime last = SessionTime.ZERO;
    try {
      while (true) {
        Heard heard = scale.listen(PATIENCE);
        last = heard.at();
        keep(heard);
        inbox.put(stand, heard);
        if (heard instanceof Heard.Over) {
          return;
        }
      }
    } catch (InterruptedException told) {
      Thread.currentThread().interrupt();
    } catch (RuntimeException bug) {
      LOG.error("listening to {} failed", stand.word(), bug);
      giveUp(last, bug);
    }
  }

  /** Kept here, where chunks are, so that a stream tells everything in the order it happened. */
  private void keep(Heard heard) {
    if (heard instanceof Heard.Gone gone) {
      scribe.lost(keptAt.get(), gone.at(), gone.why());
    } else if (heard instanceof Heard.Back back) {
      scribe.restored(keptAt.get(), back.at());
    }
  }

  private void giveUp(SessionTime at, RuntimeException bug) {
    try {
      Heard gone = new Heard.Gone(at, "the program failed on what this scale sent: " + bug);
      keep(gone);
      inbox.put(stand, gone);
      inbox.put(stand, new Heard.Over(at));
    } catch (InterruptedException told) {
      Thread.currentThread().interrupt();
    }
  }

  /** Stops listening and lets the scale go. */
  @Override
  public void close() {
    thread.interrupt();
    scale.close();
  }
}
