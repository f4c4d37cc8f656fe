package pourwright.device.protocol;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * Words that may stand at one place of a line; where several fit the longest is taken.
 *
 * @param <T> what a word stands for
 */
final class Words<T> {
  private static final int CASE_BIT = 0x20;

  private record Entry<T>(String word, T meaning) {}

  private final List<Entry<T>> inWritingOrder;
  private final List<Entry<T>> longestFirst;
  private final boolean isCaseBlind;

  private Words(List<Entry<T>> entries, boolean isCaseBlind) {
    this.inWritingOrder = entries;
    this.longestFirst =
        entries.stream()
            .sorted(Comparator.comparing((Entry<T> entry) -> -entry.word().length()))
            .toList();
    this.isCaseBlind = isCaseBlind;
  }

  static <T> Words<T> exactly(Map<String, T> meanings) {
    return new Words<>(entries(meanings), false);
  }

  static <T> Words<T> inAnyCase(Map<String, T> meanings) {
    return new Words<>(entries(meanings), true);
  }

  private static <T> List<Entry<T>> entries(Map<String, T> meanings) {
    return meanings.entrySet().stream()
        .map(entry -> new Entry<>(entry.getKey(), entry.getValue()))
        .toList();
  }

  /** Index of the word that stands at {@code from}, or -1. */
  int indexAt(byte[] text, int from, int to) {
    for (int i = 0; i < longestFirst.size(); i++) {
      if (stands(longestFirst.get(i).word(), text, from, to)) {
        return i;
      }
    }
    return -1;
  }

  T meaning(int index) {
    return longestFirst.get(index).meaning();
  }

  int length(int index) {
    return longestFirst.get(index).word().length();
  }

  /** The first word that stands for such a thing, as the profile lists them. */
  Optional<String> findWord(Predicate<T> wanted) {
    return inWritingOrder.stream()
        .filter(entry -> wanted.test(entry.meaning()))
        .map(Entry::word)
        .findFirst();
  }

  private boolean stands(String word, byte[] text, int from, int to) {
    int length = word.length();
    if (length > to - from) {
      return false;
    }
    for (int i = 0; i < length; i++) {
      int wanted = word.charAt(i);
      int found = text[from + i];
      if (wanted != found && !(isCaseBlind && isSameLetter(wanted, found))) {
        return false;
      }
    }
    return true;
  }

  private static boolean isSameLetter(int wanted, int found) {
    int small = wanted | CASE_BIT;
    return small >= 'a' && small <= 'z' && small == (found | CASE_BIT);
  }
}
