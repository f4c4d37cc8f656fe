package pourwright.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.URI;
import java.security.SecureRandom;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jline.utils.Signals;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import pourwright.journal.JournalFile;
import pourwright.web.Desk;
import pourwright.web.LivePage;
import pourwright.web.PageServer;
import pourwright.web.PageSettings;
import pourwright.web.Pairing;
import pourwright.web.QrCode;

/** The page of a run, and what the terminal says about it. */
final class LocalPage implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(LocalPage.class);

  /** How long the page must have been left before the program ends; a reload takes less. */
  private static final int LEFT_SECONDS = 5;

  private static final int LONGEST_WAIT_SECONDS = 60 * 60;

  private final LivePage live;
  private final PageServer server;
  private final PrintWriter err;

  private LocalPage(LivePage live, PageServer server, PrintWriter err) {
    this.live = live;
    this.server = server;
    this.err = err;
  }

  /**
   * Serves the page and says where; empty when it is not wanted, or cannot be had though no port
   * was asked for. The run goes on without it.
   *
   * @param desks what answers for the pages beside the rehearsal's
   * @throws Failure when the port that was asked for cannot be had
   */
  static Optional<LocalPage> open(PageOptions options, List<Desk> desks, PrintWriter err)
      throws Failure {
    if (options.isOff()) {
      return Optional.empty();
    }
    LivePage live = new LivePage();
    PageSettings settings = options.settings();
    Pairing pairing =
        new Pairing(new SecureRandom(), System::nanoTime, code -> LOG.info("a new pairing code"));
    PageServer server;
    try {
      server = PageServer.open(settings, live, pairing, desks);
    } catch (IOException taken) {
      if (options.isPortNamed()) {
        throw new Failure(String.valueOf(taken.getMessage()), taken);
      }
      try {
        server = PageServer.open(new PageSettings(0, settings.lan()), live, pairing, desks);
      } catch (IOException none) {
        err.println("note: " + none.getMessage());
        return Optional.empty();
      }
    }
    LocalPage page = new LocalPage(live, server, err);
    page.announce(pairing);
    return Optional.of(page);
  }

  /**
   * Shows one page without a rehearsal until Ctrl-C.
   *
   * @param name of the page, which is also its path
   */
  static void stay(PageOptions options, JournalFile journal, String name, PrintWriter err)
      throws Failure, InterruptedException {
    Optional<LocalPage> shown = open(options, Desks.of(journal), err);
    if (shown.isEmpty()) {
      throw new Failure("the page is not shown: it was switched off, or no port could be had");
    }
    try (LocalPage page = shown.get()) {
      err.println(name + ": " + page.address().resolve("/" + name) + " (Ctrl-C ends it)");
      err.flush();
      CountDownLatch stopped = new CountDownLatch(1);
      for (String signal : List.of("INT", "TERM", "HUP")) {
        Signals.register(signal, stopped::countDown);
      }
      stopped.await();
    }
  }

  private void announce(Pairing pairing) {
    err.println("page: " + server.address());
    List<URI> lan = server.listLanAddresses();
    if (!lan.isEmpty()) {
      String code = pairing.code();
      err.println(QrCode.of(server.pairingLink(code)).toTerminal());
      err.println("phone or tablet: scan this, or open " + lan.get(0) + "pair and enter " + code);
    }
    err.flush();
  }

  URI address() {
    return server.address();
  }

  LivePage live() {
    return live;
  }

  /** Opens the page in a browser where there is a desktop; else the address was told. */
  void showInBrowser() {
    // Waking a desktop takes a while, and the rehearsal does not wait for it.
    Thread opener = new Thread(this::browse, "browser opener");
    opener.setDaemon(true);
    opener.start();
  }

  private void browse() {
    if (System.getenv("CI") != null || java.awt.GraphicsEnvironment.isHeadless()) {
      return;
    }
    try {
      java.awt.Desktop desktop = java.awt.Desktop.getDesktop();
      if (desktop.isSupported(java.awt.Desktop.Action.BROWSE)) {
        desktop.browse(server.address());
      }
    } catch (IOException | UnsupportedOperationException none) {
      LOG.info("no browser opened the page: {}", none.getMessage());
    }
  }

  /**
   * Waits while someone still looks at the page, to enter the strength of the cup and a note.
   *
   * @param stopped counted down when the brewer wants to end
   */
  void awaitLeft(CountDownLatch stopped) throws InterruptedException {
    if (!live.isWatched()) {
      return;
    }
    err.println("The page stays for the strength of the cup and a note. Close it, or Ctrl-C.");
    err.flush();
    int left = 0;
    for (int waited = 0; left < LEFT_SECONDS && waited < LONGEST_WAIT_SECONDS; waited++) {
      if (stopped.await(1, TimeUnit.SECONDS)) {
        return;
      }
      left = live.isWatched() ? 0 : left + 1;
    }
  }

  @Override
  public void close() {
    server.close();
  }
}
