package pourwright.detect;

import java.util.List;

/** What of the announced is of one kind, for tests. */
final class Said {
  private Said() {}

  static <E extends PourEvent> List<E> all(List<PourEvent> announced, Class<E> kind) {
    return announced.stream().filter(kind::isInstance).map(kind::cast).toList();
  }

  static <E extends PourEvent> List<E> all(Analysis analysis, Class<E> kind) {
    return all(analysis.announced(), kind);
  }
}
