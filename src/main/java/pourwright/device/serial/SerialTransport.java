package pourwright.device.serial;

import java.io.IOException;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import pourwright.device.ArrivalQueue;
import pourwright.device.Bytes;
import pourwright.device.LineSettings;
import pourwright.device.SessionClock;
import pourwright.device.Transport;

/**
 * A scale on a serial port.
 *
 * <p>A thread of its own reads the port, so bytes are stamped when they come and not when someone
 * asks. It notices a device that is unplugged (the read fails, or the path leads elsewhere) and a
 * line that is silent for {@link #SILENCE_LIMIT}, says so once, and takes the device again as soon
 * as it is back under the same path. The start command is sent after each opening, and again while
 * the line stays silent, since a scale that was switched off has forgotten it.
 */
public final class SerialTransport implements Transport {
  /** A working scale sends several times a second; loss has to be known within 2 s. */
  static final Duration SILENCE_LIMIT = Duration.ofMillis(1500);

  /** How often a lost port is tried again. */
  private static final long RETRY_MILLIS = 100;

  private static final Duration START_AGAIN = Duration.ofSeconds(2);
  private static final Duration CLOSING_LIMIT = Duration.ofSeconds(1);

  private final String path;
  private final LineSettings line;
  private final Optional<Bytes> startCommand;
  private final ArrivalQueue queue;
  private final Thread reader;
  private final Object portLock = new Object();

  private volatile boolean isClosing;
  private @Nullable OpenPort port; // under portLock; only the reader changes it once it runs

  // Owned by the reader.
  private boolean isLost;
  private long lastHeardNanos;
  private long lastStartNanos;

  private SerialTransport(
      String path,
      LineSettings line,
      Optional<Bytes> startCommand,
      SessionClock clock,
      OpenPort port) {
    this.path = path;
    this.line = line;
    this.startCommand = startCommand;
    this.queue = new ArrivalQueue(clock, ArrivalQueue.USUAL_CAPACITY);
    this.port = port;
    this.reader = new Thread(this::run, "serial " + path);
    reader.setDaemon(true);
  }

  /**
   * Opens a port and starts to listen.
   *
   * @param path as the operating system names it; links are followed, each time it is opened
   * @param startCommand what makes this kind of scale send, where it needs telling
   * @throws IOException when the port is missing, in use or not permitted; the message is one plain
   *     sentence that names it and says what to do
   */
  public static SerialTransport open(
      String path, LineSettings line, Optional<Bytes> startCommand, SessionClock clock)
      throws IOException {
    SerialTransport transport =
        new SerialTransport(path, line, startCommand, clock, OpenPort.open(path, line));
    transport.reader.start();
    return transport;
  }

  @Override
  public Arrival receive(Duration patience) throws InterruptedException {
    return queue.take(patience);
  }

  @Override
  public void send(Bytes command) throws IOException {
    synchronized (portLock) {
      if (port == null) {
        throw new IOException("port " + path + " is not connected; the command was not sent");
      }
      port.write(command);
    }
  }

  @Override
  public void close() {
    isClosing = true;
    reader.interrupt();
    try {
      reader.join(CLOSING_LIMIT.toMillis());
    } catch (InterruptedException told) {
      Thread.currentThread().interrupt();
    }
  }

  private void run() {
    try {
      begin();
      while (!isClosing) {
        Optional<OpenPort> now = findPort();
        if (now.isEmpty()) {
          retake();
        } else {
          listenTo(now.get());
        }
      }
    } catch (InterruptedException told) {
      // Closing; the port is let go below.
    } finally {
      letGo();
    }
  }

  private void listenTo(OpenPort now) throws InterruptedException {
    Bytes bytes;
    try {
      bytes = now.read();
    } catch (IOException gone) {
      letGo();
      lose(said(gone));
      return;
    }
    if (bytes.size() > 0) {
      hear(bytes);
    } else if (now.isGone()) {
      letGo();
      lose("port " + path + " was unplugged; plug it in again");
    } else if (isOlder(lastHeardNanos, SILENCE_LIMIT)) {
      lose("port " + path + " is silent; is the scale switched on and set to send by itself?");
      if (isOlder(lastStartNanos, START_AGAIN)) {
        sendStart();
      }
    }
  }

  private void hear(Bytes bytes) throws InterruptedException {
    lastHeardNanos = System.nanoTime();
    if (isLost) {
      isLost = false;
      queue.restored();
    }
    queue.received(bytes);
  }

  private void lose(String why) throws InterruptedException {
    if (!isLost) {
      isLost = true;
      queue.lost(why);
    }
  }

  private void retake() throws InterruptedException {
    TimeUnit.MILLISECONDS.sleep(RETRY_MILLIS);
    try {
      OpenPort again = OpenPort.open(path, line);
      synchronized (portLock) {
        port = again;
      }
      begin();
    } catch (IOException notYet) {
      // It is tried again; the brewer has been told that it is gone.
    }
  }

  /** A port was opened: silence counts from now. */
  private void begin() {
    lastHeardNanos = System.nanoTime();
    sendStart();
  }

  private void sendStart() {
    lastStartNanos = System.nanoTime();
    if (startCommand.isPresent()) {
      try {
        send(startCommand.get());
      } catch (IOException notTaken) {
        // A line that takes no bytes gives none either, and its silence is told.
      }
    }
  }

  private Optional<OpenPort> findPort() {
    synchronized (portLock) {
      return Optional.ofNullable(port);
    }
  }

  private void letGo() {
    synchronized (portLock) {
      if (port != null) {
        port.close();
        port = null;
      }
    }
  }

  private String said(IOException failure) {
    return Optional.ofNullable(failure.getMessage()).orElse("port " + path + " failed");
  }

  private static boolean isOlder(long sinceNanos, Duration limit) {
    return System.nanoTime() - sinceNanos > limit.toNanos();
  }
}
