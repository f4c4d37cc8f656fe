package pourwright.rig;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What the scales of one brewer can see; drawings in {@code hardware-notes}. */
public enum Rig {
  /** Dripper on server, both on one scale: pours show, drainage does not. */
  WHOLE,
  /** Dripper on a stand, scale under the server: outflow shows, pours are inferred. */
  SERVER,
  /** One scale under everything and one under the server: both show. */
  SPLIT;

  /** The weighed places, one scale each. */
  public List<Place> places() {
    return switch (this) {
      case WHOLE -> List.of(Place.WHOLE);
      case SERVER -> List.of(Place.SERVER);
      case SPLIT -> List.of(Place.WHOLE, Place.SERVER);
    };
  }

  /** As written in plans, files and on the command line. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<Rig> findByWord(String word) {
    return List.of(values()).stream().filter(rig -> rig.word().equals(word)).findFirst();
  }
}
