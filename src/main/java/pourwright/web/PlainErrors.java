package pourwright.web;

import org.eclipse.jetty.http.HttpStatus;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.util.Callback;

/** Answers what went wrong below the routes in the same form as they do, without inner details. */
final class PlainErrors implements Request.Handler {
  @Override
  public boolean handle(Request request, Response response, Callback callback) {
    int status = response.getStatus();
    Replies.error(
        response,
        callback,
        status,
        "The request was refused: " + HttpStatus.getMessage(status) + ".");
    return true;
  }
}
