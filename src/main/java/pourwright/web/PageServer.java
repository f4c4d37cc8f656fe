package pourwright.web;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.NetworkInterface;
import java.net.URI;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.NetworkConnectionLimit;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.server.handler.ContextHandler;
import org.eclipse.jetty.server.handler.SizeLimitHandler;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import org.eclipse.jetty.websocket.server.WebSocketUpgradeHandler;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Serves the page and its live stream; listens on the loopback unless told otherwise.
 *
 * <p>Limits: a request body of 4 KiB, headers of 8 KiB, 64 connections, messages into a live stream
 * of 1 KiB.
 */
public final class PageServer implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(PageServer.class);
  private static final int MOST_BODY_BYTES = 4 * 1024;
  private static final int MOST_HEADER_BYTES = 8 * 1024;
  private static final int MOST_CONNECTIONS = 64;
  private static final int MOST_MESSAGE_BYTES = 1024;
  private static final Duration IDLE = Duration.ofSeconds(60);
  private static final String LIVE = "/api/v1/live";

  private final Server server;
  private final ServerConnector connector;
  private final LivePage live;
  private final List<URI> lanAddresses;

  private PageServer(
      Server server, ServerConnector connector, LivePage live, List<URI> lanAddresses) {
    this.server = server;
    this.connector = connector;
    this.live = live;
    this.lanAddresses = List.copyOf(lanAddresses);
  }

  /**
   * Starts serving.
   *
   * @param desks what answers for the pages beside the rehearsal's
   * @throws IOException when it cannot; the message is one plain sentence: what happened, what to
   *     do
   */
  public static PageServer open(
      PageSettings settings, LivePage live, Pairing pairing, List<Desk> desks) throws IOException {
    QueuedThreadPool threads = new QueuedThreadPool(16, 2);
    threads.setName("page");
    threads.setDaemon(true);
    Server server = new Server(threads);
    HttpConfiguration http = new HttpConfiguration();
    http.setSendServerVersion(false);
    http.setRequestHeaderSize(MOST_HEADER_BYTES);
    ServerConnector connector = new ServerConnector(server, 1, 1, new HttpConnectionFactory(http));
    connector.setHost(settings.lan() ? null : "127.0.0.1");
    connector.setPort(settings.port());
    connector.setIdleTimeout(IDLE.toMillis());
    server.addConnector(connector);
    server.addBean(new NetworkConnectionLimit(MOST_CONNECTIONS, server));
    server.setErrorHandler(new PlainErrors());
    try {
      // The port must be known before the door can say by which names it is called.
      connector.open();
    } catch (IOException taken) {
      throw new IOException(
          "Port "
              + settings.port()
              + " of this machine cannot be had for the page ("
              + taken.getMessage()
              + "). Close what uses it, or name another with --port.",
          taken);
    }
    int port = connector.getLocalPort();
    List<InetAddress> own = settings.lan() ? lanAddresses() : List.of();
    List<URI> lan = own.stream().map(address -> uri(address, port)).toList();
    Set<String> authorities =
        new HashSet<>(Set.of("127.0.0.1:" + port, "localhost:" + port, "[::1]:" + port));
    lan.forEach(address -> authorities.add(address.getAuthority()));

    ContextHandler context = new ContextHandler("/");
    WebSocketUpgradeHandler sockets =
        WebSocketUpgradeHandler.from(
            server,
            context,
            container -> {
              container.setMaxTextMessageSize(MOST_MESSAGE_BYTES);
              container.setMaxBinaryMessageSize(MOST_MESSAGE_BYTES);
              container.setIdleTimeout(IDLE);
              container.addMapping(
                  LIVE,
                  (request, response, callback) -> {
                    // Nothing is far away: compressing 25 small views a second only costs time.
                    response.setExtensions(List.of());
                    return new Subscriber(live, System::nanoTime);
                  });
            });
    sockets.setHandler(new Routes(live, pairing, lan, new PageFiles(), desks));
    SizeLimitHandler sized = new SizeLimitHandler(MOST_BODY_BYTES, -1);
    sized.setHandler(sockets);
    context.setHandler(new DoorHandler(new Door(authorities, pairing::isPaired), sized));
    server.setHandler(context);
    try {
      server.start();
    } catch (Exception failed) {
      connector.close();
      throw new IOException("The page could not be served: " + failed.getMessage(), failed);
    }
    LOG.info("page served on port {}, {}", port, settings.lan() ? "local network" : "loopback");
    return new PageServer(server, connector, live, lan);
  }

  /** Where a browser of this machine finds the page. */
  public URI address() {
    return URI.create("http://127.0.0.1:" + connector.getLocalPort() + "/");
  }

  /** Where devices of the local network find it; empty unless they are let in. */
  public List<URI> listLanAddresses() {
    return lanAddresses;
  }

  /**
   * What a device of the network opens to be paired: the code stands behind the {@code #}, which
   * browsers send to no server.
   *
   * @throws IllegalStateException when no such device is let in
   */
  public String pairingLink(String code) {
    if (lanAddresses.isEmpty()) {
      throw new IllegalStateException("no device of the network is let in");
    }
    return pairingLink(lanAddresses.get(0), code);
  }

  static String pairingLink(URI address, String code) {
    return address.resolve(Door.PAIRING_PAGE) + "#" + code;
  }

  @Override
  public void close() {
    live.dismissAll("the program ends");
    try {
      server.stop();
    } catch (Exception failed) {
      LOG.warn("the page server did not stop cleanly", failed);
    }
  }

  private static URI uri(InetAddress address, int port) {
    return URI.create("http://" + address.getHostAddress() + ":" + port + "/");
  }

  /**
   * IPv4 only: that is what a person can type, and what every phone on the same network reaches.
   */
  private static List<InetAddress> lanAddresses() throws IOException {
    List<InetAddress> found = new ArrayList<>();
    for (NetworkInterface network : Collections.list(NetworkInterface.getNetworkInterfaces())) {
      if (network.isUp() && !network.isLoopback()) {
        for (InetAddress address : Collections.list(network.getInetAddresses())) {
          if (address instanceof java.net.Inet4Address && !address.isLinkLocalAddress()) {
            found.add(address);
          }
        }
      }
    }
    return found;
  }

  static boolean isLoopback(java.net.SocketAddress from) {
    return from instanceof InetSocketAddress address
        && address.getAddress() != null
        && address.getAddress().isLoopbackAddress();
  }
}
