package pourwright.journal;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What a cup is scored for; the trade's own items. */
public enum TasteItem {
  AROMA,
  FLAVOUR,
  AFTERTASTE,
  ACIDITY,
  BODY,
  BALANCE,
  OVERALL,
  SWEETNESS;

  /** As written on the command line and in files. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  public static Optional<TasteItem> findByWord(String word) {
    return List.of(values()).stream().filter(item -> item.word().equals(word)).findFirst();
  }
}
