package pourwright.web;

import java.util.Locale;
import java.util.Set;
import java.util.function.Predicate;

/**
 * Decides who may come in.
 *
 * <p>Three walls, each for an attack of its own: the Host must be an address of this machine, else
 * a foreign name that was pointed here (DNS rebinding) could read the page; the Origin must be this
 * page, else any page in the same browser could send commands or open the live stream; and whoever
 * comes from another machine must be paired. There is no proxy in front, so no forwarding header is
 * believed.
 */
final class Door {
  static final String PAIRING_PAGE = "/pair";
  static final String PAIRING_CALL = "/api/v1/pairing";
  static final String API = "/api/v1/";

  private final Set<String> authorities;
  private final Predicate<String> isPaired;

  /**
   * A door of a server.
   *
   * @param authorities every {@code host:port} by which this server may be called, lower case
   * @param isPaired whether a token is that of a paired device
   */
  Door(Set<String> authorities, Predicate<String> isPaired) {
    this.authorities = Set.copyOf(authorities);
    this.isPaired = isPaired;
  }

  /** What becomes of a request. */
  sealed interface Answer {
    record ComeIn() implements Answer {}

    /** A device that is not paired asked for a page: show it where to enter the code. */
    record PairFirst() implements Answer {}

    /**
     * No.
     *
     * @param status of HTTP
     * @param why one plain sentence
     */
    record StayOut(int status, String why) implements Answer {}
  }

  Answer judge(Knock knock) {
    String host = knock.host().toLowerCase(Locale.ROOT);
    if (host.isEmpty()) {
      return new Answer.StayOut(400, "The request names no host.");
    }
    if (!authorities.contains(host)) {
      return new Answer.StayOut(421, "This program does not answer to that host name.");
    }
    if (knock.origin().isPresent()
        && !knock.origin().get().toLowerCase(Locale.ROOT).equals("http://" + host)) {
      return new Answer.StayOut(403, "Only the program's own page may ask this.");
    }
    boolean isRead = knock.method().equals("GET") || knock.method().equals("HEAD");
    boolean isApi = knock.path().startsWith(API);
    boolean isForeign =
        knock.fetchSite().isPresent()
            && !knock.fetchSite().get().equals("same-origin")
            && !knock.fetchSite().get().equals("none");
    if (isForeign && (isApi || !isRead || knock.isUpgrade())) {
      return new Answer.StayOut(403, "Only the program's own page may ask this.");
    }
    if (knock.isOwnMachine() || knock.token().filter(isPaired).isPresent()) {
      return new Answer.ComeIn();
    }
    if (isApi) {
      boolean isPairing = knock.path().equals(PAIRING_CALL) && knock.method().equals("POST");
      return isPairing
          ? new Answer.ComeIn()
          : new Answer.StayOut(401, "This device is not paired. Open the page and enter the code.");
    }
    return knock.path().equals("/") ? new Answer.PairFirst() : new Answer.ComeIn();
  }
}
