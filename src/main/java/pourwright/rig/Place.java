package pourwright.rig;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A place in the rig that one scale weighs. */
public enum Place {
  /** Everything: dripper, bed, water and server. */
  WHOLE,
  /** The server and what has drained into it. */
  SERVER;

  /** As written in the {@code scale} column of a trace. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<Place> findByWord(String word) {
    return List.of(values()).stream().filter(place -> place.word().equals(word)).findFirst();
  }
}
