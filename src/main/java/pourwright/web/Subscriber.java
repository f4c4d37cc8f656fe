package pourwright.web;

import java.util.Optional;
import java.util.function.LongSupplier;
import org.eclipse.jetty.websocket.api.Callback;
import org.eclipse.jetty.websocket.api.Session;
import org.jspecify.annotations.Nullable;

/**
 * One open live stream.
 *
 * <p>At most one message is under way to a client. While it is, newer ones are not queued: when the
 * client has taken it, it gets what is newest then, with all points of the trace that it lacks. So
 * a slow client sees fewer views, costs no memory and misses no point; one that takes nothing for
 * {@value #PATIENCE_SECONDS} s is let go and comes back by itself when it wakes. Public only
 * because the server calls its methods by reflection.
 */
public final class Subscriber implements Session.Listener.AutoDemanding {
  static final int PATIENCE_SECONDS = 15;
  private static final int POLICY_VIOLATION = 1008;
  private static final int MOST_WORDS = 5;

  private final Pages pages;
  private final LongSupplier nanoClock;
  private final Progress progress = new Progress();
  private @Nullable Session session;
  private boolean isSending;
  private boolean hasNews;
  private long sendingSinceNanos;
  private int words;

  /** Where subscribers come from and get their messages. */
  interface Pages {
    void join(Subscriber subscriber);

    void leave(Subscriber subscriber);

    /** The next message for a client that has come so far; notes the progress. */
    Optional<String> next(Progress progress);
  }

  Subscriber(Pages pages, LongSupplier nanoClock) {
    this.pages = pages;
    this.nanoClock = nanoClock;
  }

  @Override
  public void onWebSocketOpen(Session opened) {
    synchronized (this) {
      session = opened;
    }
    pages.join(this);
    nudge();
  }

  @Override
  public void onWebSocketClose(int status, @Nullable String reason, Callback callback) {
    pages.leave(this);
    callback.succeed();
  }

  @Override
  public void onWebSocketError(Throwable cause) {
    pages.leave(this);
  }

  /** This stream only tells; whoever keeps talking into it is shown out. */
  @Override
  public void onWebSocketText(@Nullable String message) {
    tellOff();
  }

  @Override
  public void onWebSocketBinary(java.nio.ByteBuffer payload, Callback callback) {
    callback.succeed();
    tellOff();
  }

  private void tellOff() {
    Session open;
    synchronized (this) {
      open = ++words >= MOST_WORDS ? session : null;
      if (open != null) {
        session = null; // news would cut the farewell short
      }
    }
    if (open != null) {
      open.close(POLICY_VIOLATION, "this stream only tells; send commands by POST", Callback.NOOP);
    }
  }

  /** There is news. */
  void nudge() {
    Session open;
    String message;
    synchronized (this) {
      open = session;
      if (open == null || !open.isOpen()) {
        return;
      }
      if (isSending) {
        hasNews = true;
        if (nanoClock.getAsLong() - sendingSinceNanos > PATIENCE_SECONDS * 1_000_000_000L) {
          open.disconnect();
        }
        return;
      }
      Optional<String> next = pages.next(progress);
      if (next.isEmpty()) {
        return;
      }
      message = next.get();
      isSending = true;
      hasNews = true;
      sendingSinceNanos = nanoClock.getAsLong();
    }
    open.sendText(message, Callback.from(this::sent, failed -> cut(open)));
  }

  /** Cuts a stream that takes nothing any more; one that is being closed says farewell itself. */
  private static void cut(Session open) {
    if (open.isOpen()) {
      open.disconnect();
    }
  }

  private void sent() {
    boolean more;
    synchronized (this) {
      isSending = false;
      more = hasNews;
      hasNews = false;
    }
    if (more) {
      nudge();
    }
  }

  /** Ends the stream because the program ends. */
  void dismiss(String why) {
    Session open;
    synchronized (this) {
      open = session;
    }
    if (open != null) {
      open.close(1001, why, Callback.NOOP);
    }
  }
}
