package pourwright.web;

import java.util.Optional;

/**
 * All that the door may know of a request.
 *
 * @param method upper case
 * @param path without query
 * @param host value of the Host header, empty when it is missing
 * @param origin value of the Origin header, which every browser sends with what could do harm
 * @param fetchSite value of the Sec-Fetch-Site header
 * @param isUpgrade whether a WebSocket is asked for
 * @param isOwnMachine whether it comes over the loopback
 * @param token of the cookie that a paired device holds
 */
record Knock(
    String method,
    String path,
    String host,
    Optional<String> origin,
    Optional<String> fetchSite,
    boolean isUpgrade,
    boolean isOwnMachine,
    Optional<String> token) {}
