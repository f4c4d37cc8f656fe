package pourwright.cli;

import java.util.Locale;

/** How results are written. */
enum Format {
  TEXT,
  JSON;

  @Override
  public String toString() {
    return name().toLowerCase(Locale.ROOT);
  }
}
