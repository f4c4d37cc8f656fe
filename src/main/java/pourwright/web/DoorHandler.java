package pourwright.web;

import java.util.Optional;
import org.eclipse.jetty.http.HttpCookie;
import org.eclipse.jetty.http.HttpField;
import org.eclipse.jetty.http.HttpFields;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.util.Callback;

/**
 * Puts the {@link Door} before everything, and headers that keep browsers strict on every answer.
 */
final class DoorHandler extends Handler.Wrapper {
  static final String COOKIE = "pourwright";

  private final Door door;

  DoorHandler(Door door, Handler inside) {
    super(inside);
    this.door = door;
  }

  @Override
  public boolean handle(Request request, Response response, Callback callback) throws Exception {
    Knock knock = knock(request);
    harden(response.getHeaders(), knock.host());
    Door.Answer answer = door.judge(knock);
    if (answer instanceof Door.Answer.StayOut out) {
      Replies.error(response, callback, out.status(), out.why());
      return true;
    }
    if (answer instanceof Door.Answer.PairFirst) {
      Response.sendRedirect(request, response, callback, Door.PAIRING_PAGE);
      return true;
    }
    return super.handle(request, response, callback);
  }

  private static Knock knock(Request request) {
    HttpFields headers = request.getHeaders();
    Optional<String> token =
        Request.getCookies(request).stream()
            .filter(cookie -> cookie.getName().equals(COOKIE))
            .map(HttpCookie::getValue)
            .findFirst();
    return new Knock(
        request.getMethod(),
        Request.getPathInContext(request),
        Optional.ofNullable(headers.get(HttpHeader.HOST)).orElse(""),
        Optional.ofNullable(headers.get(HttpHeader.ORIGIN)),
        Optional.ofNullable(headers.get("Sec-Fetch-Site")),
        headers.contains(HttpHeader.UPGRADE),
        PageServer.isLoopback(request.getConnectionMetaData().getRemoteSocketAddress()),
        token);
  }

  private static void harden(HttpFields.Mutable headers, String host) {
    String socket = host.matches("[\\[\\]A-Za-z0-9.:-]{1,80}") ? " ws://" + host : "";
    headers.put(
        "Content-Security-Policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self';"
            + " connect-src 'self'"
            + socket
            + "; base-uri 'none'; form-action 'none'; frame-ancestors 'none'");
    headers.put(new HttpField("X-Content-Type-Options", "nosniff"));
    headers.put(new HttpField("Referrer-Policy", "no-referrer"));
    headers.put(new HttpField("Cross-Origin-Opener-Policy", "same-origin"));
    headers.put(new HttpField("Cross-Origin-Resource-Policy", "same-origin"));
    headers.put(
        new HttpField("Permissions-Policy", "camera=(), microphone=(), geolocation=(), usb=()"));
  }
}
