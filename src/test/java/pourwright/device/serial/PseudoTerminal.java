package pourwright.device.serial;

import com.sun.jna.LastErrorException;
import com.sun.jna.Library;
import com.sun.jna.Native;
import com.sun.jna.Structure;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;

/**
 * The scale's end of a real serial line: a pseudo-terminal of the operating system, so that a
 * program opens the other end like any port. It has a path that stays the same when the cable is
 * pulled and put back, as a port named by its place does.
 */
public final class PseudoTerminal implements AutoCloseable {
  private static final int READ_WRITE = 2;
  private static final int NO_CONTROLLING_TERMINAL = 0x100;
  private static final short POLL_IN = 1;
  private static final int LOCK_EXCLUSIVE = 2;

  private static final C LIBRARY = Native.load("c", C.class);

  private final Path link;
  private int master = -1;

  /** What is needed of the C library; see posix_openpt(3). */
  interface C extends Library {
    int posix_openpt(int flags) throws LastErrorException;

    int grantpt(int descriptor) throws LastErrorException;

    int unlockpt(int descriptor) throws LastErrorException;

    int ptsname_r(int descriptor, byte[] name, long size);

    long write(int descriptor, byte[] bytes, long count) throws LastErrorException;

    long read(int descriptor, byte[] bytes, long count) throws LastErrorException;

    int poll(PollFd descriptors, long count, int timeoutMillis) throws LastErrorException;

    int open(String path, int flags) throws LastErrorException;

    int flock(int descriptor, int operation) throws LastErrorException;

    int close(int descriptor) throws LastErrorException;
  }

  /** {@code struct pollfd}. */
  @Structure.FieldOrder({"fd", "events", "revents"})
  public static final class PollFd extends Structure {
    public int fd;
    public short events;
    public short revents;
  }

  private PseudoTerminal(Path link) {
    this.link = link;
  }

  /**
   * A line that is plugged in.
   *
   * @param link where the port will be found; a symbolic link that is made here
   */
  public static PseudoTerminal plugged(Path link) throws IOException {
    PseudoTerminal line = new PseudoTerminal(link);
    line.plug();
    return line;
  }

  /** What to write after {@code serial:}. */
  public String path() {
    return link.toString();
  }

  /** Puts the cable in; the path leads to a new device. */
  public void plug() throws IOException {
    master = LIBRARY.posix_openpt(READ_WRITE | NO_CONTROLLING_TERMINAL);
    LIBRARY.grantpt(master);
    LIBRARY.unlockpt(master);
    byte[] name = new byte[128];
    if (LIBRARY.ptsname_r(master, name, name.length) != 0) {
      throw new IOException("a pseudo-terminal has no name");
    }
    Path fresh = link.resolveSibling(link.getFileName() + ".new");
    Files.createSymbolicLink(fresh, Path.of(Native.toString(name)));
    Files.move(fresh, link, java.nio.file.StandardCopyOption.ATOMIC_MOVE);
  }

  /** Pulls the cable: device and path are gone. */
  public void unplug() throws IOException {
    Files.deleteIfExists(link);
    closeMaster();
  }

  /** Sends bytes as the scale would. */
  public void say(byte[] bytes) {
    int sent = 0;
    while (sent < bytes.length) {
      byte[] rest = java.util.Arrays.copyOfRange(bytes, sent, bytes.length);
      sent += (int) LIBRARY.write(master, rest, rest.length);
    }
  }

  public void say(String ascii) {
    say(ascii.getBytes(StandardCharsets.US_ASCII));
  }

  /** What the program has sent to the scale; nothing when it sends nothing within the patience. */
  public String heard(Duration patience) {
    PollFd poll = new PollFd();
    poll.fd = master;
    poll.events = POLL_IN;
    if (LIBRARY.poll(poll, 1, (int) patience.toMillis()) == 0) {
      return "";
    }
    byte[] bytes = new byte[1024];
    try {
      int count = (int) LIBRARY.read(master, bytes, bytes.length);
      return new String(bytes, 0, count, StandardCharsets.US_ASCII);
    } catch (LastErrorException nobodyHoldsTheOtherEnd) {
      return "";
    }
  }

  /** Holds the port as another program would, until closed. */
  public AutoCloseable heldByAnother() {
    int descriptor = LIBRARY.open(path(), READ_WRITE | NO_CONTROLLING_TERMINAL);
    LIBRARY.flock(descriptor, LOCK_EXCLUSIVE);
    return () -> LIBRARY.close(descriptor);
  }

  private void closeMaster() {
    if (master >= 0) {
      LIBRARY.close(master);
      master = -1;
    }
  }

  @Override
  public void close() throws IOException {
    unplug();
  }
}
