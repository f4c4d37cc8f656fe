package pourwright.cli;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.jline.terminal.Attributes;
import org.jline.terminal.Size;
import org.jline.terminal.Terminal;
import org.jline.terminal.TerminalBuilder;
import org.jline.utils.NonBlockingReader;
import org.jspecify.annotations.Nullable;
import pourwright.session.Audience;
import pourwright.session.Command;
import pourwright.session.RehearsalView;

/**
 * Shows a rehearsal on a whole terminal. Only lines that changed are written, so nothing flickers;
 * keys become commands; the terminal is given back as it was.
 */
final class TerminalScreen implements Audience, AutoCloseable {
  private static final String OTHER_SCREEN = "\033[?1049h\033[?25l";
  private static final String FORMER_SCREEN = "\033[?25h\033[?1049l";
  private static final String BEGIN_FRAME = "\033[?2026h";
  private static final String END_FRAME = "\033[?2026l";
  private static final String CLEAR_TO_END_OF_LINE = "\033[K";
  private static final String CLEAR = "\033[2J";
  private static final String REVERSED = "\033[7m";
  private static final String PLAIN = "\033[0m";
  private static final String CUE = ">>> ";
  private static final long KEY_WAIT_MILLIS = 200;

  private final Terminal terminal;
  private final Attributes former;
  private final boolean isStyled;
  private final Consumer<Command> tell;
  private final Keys keys = new Keys();
  private List<String> shown = new ArrayList<>();
  private Size size = new Size(0, 0);
  private volatile @Nullable RehearsalView newest;
  private volatile boolean isClosed;

  private TerminalScreen(Terminal terminal, boolean isStyled, Consumer<Command> tell) {
    this.terminal = terminal;
    this.isStyled = isStyled;
    this.tell = tell;
    this.former = terminal.enterRawMode();
    Thread reading = new Thread(this::readKeys, "keys");
    reading.setDaemon(true);
    terminal.writer().print(OTHER_SCREEN + CLEAR);
    terminal.flush();
    reading.start();
  }

  /**
   * Takes the terminal this program runs in.
   *
   * @param isStyled false to leave out all but plain text
   * @param tell gets what the keys mean
   * @throws IOException when standard output is no terminal; so does IllegalStateException
   */
  static TerminalScreen open(boolean isStyled, Consumer<Command> tell) throws IOException {
    Terminal terminal =
        TerminalBuilder.builder()
            .system(true)
            .systemOutput(TerminalBuilder.SystemOutput.SysOut)
            .dumb(false)
            .build();
    return new TerminalScreen(terminal, isStyled, tell);
  }

  @Override
  public synchronized void see(RehearsalView view) {
    if (isClosed) {
      return;
    }
    newest = view;
    Size now = terminal.getSize();
    StringBuilder frame = new StringBuilder(BEGIN_FRAME);
    if (!now.equals(size)) {
      size = new Size(now.getColumns(), now.getRows());
      shown = new ArrayList<>();
      frame.append(CLEAR);
    }
    List<String> lines = LiveText.of(view, size.getColumns(), size.getRows());
    int before = frame.length();
    for (int row = 0; row < Math.max(lines.size(), shown.size()); row++) {
      String line = row < lines.size() ? lines.get(row) : "";
      if (row >= shown.size() || !shown.get(row).equals(line)) {
        frame.append("\033[").append(row + 1).append(";1H").append(styled(line));
        frame.append(CLEAR_TO_END_OF_LINE);
      }
    }
    shown = lines;
    if (frame.length() > before) {
      terminal.writer().print(frame.append(END_FRAME));
      terminal.flush();
    }
  }

  private String styled(String line) {
    return isStyled && line.startsWith(CUE) ? REVERSED + line + " " + PLAIN : line;
  }

  private void readKeys() {
    NonBlockingReader reader = terminal.reader();
    try {
      while (!isClosed) {
        int key = reader.read(KEY_WAIT_MILLIS);
        if (key >= 0) {
          keys.press((char) key, newest).forEach(tell);
        } else if (key == NonBlockingReader.EOF) {
          return;
        }
      }
    } catch (IOException closed) {
      // The terminal is gone; the rehearsal goes on without keys.
    }
  }

  /** Gives the terminal back. */
  @Override
  public synchronized void close() {
    if (isClosed) {
      return;
    }
    isClosed = true;
    try {
      terminal.writer().print(FORMER_SCREEN);
      terminal.flush();
      terminal.setAttributes(former);
      terminal.close();
    } catch (IOException gone) {
      // There is no terminal left to give back.
    }
  }
}
