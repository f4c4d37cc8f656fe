package pourwright.web;

import java.util.Map;
import java.util.Optional;

/**
 * What a page asks.
 *
 * @param isRead whether it only reads; if not, it wants something done
 * @param path beginning with {@code /api/v1/}
 * @param parameters by name; of a repeated name the first
 * @param body JSON of a question that is no read, else empty
 */
public record Question(boolean isRead, String path, Map<String, String> parameters, String body) {

  public Question {
    parameters = Map.copyOf(parameters);
  }

  /** A parameter that says something. */
  public Optional<String> findParameter(String name) {
    return Optional.ofNullable(parameters.get(name)).filter(value -> !value.isBlank());
  }
}
