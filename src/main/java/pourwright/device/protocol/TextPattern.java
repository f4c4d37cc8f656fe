package pourwright.device.protocol;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import pourwright.reading.Stability;
import pourwright.units.Mass;
import pourwright.units.MassUnit;

/**
 * A small pattern for one line or frame body: literal characters, blanks and fields in braces.
 *
 * <p>Each field takes as much as it can and nothing is tried twice, so reading is linear in the
 * length of the line whatever a profile says. The language is described in {@code
 * hardware-notes/profiles.md}.
 */
final class TextPattern {
  /** More digits than any scale has, and few enough for exact arithmetic in a long. */
  static final int MOST_DIGITS = 15;

  /** Decimals that nanograms can hold, for the smallest unit in use. */
  static final int MOST_DECIMALS = 9;

  /**
   * What fields of a pattern mean.
   *
   * @param usual unit of a number that names none
   * @param isUnitNeeded a number without a unit is refused
   * @param units words for units
   * @param tables the profile's own word fields
   * @param over words in the number's place for a load above range
   * @param under words in the number's place for a load below range
   * @param hasPoint a decimal point may be used
   * @param hasComma a decimal comma may be used
   * @param isFixed widths are exact, as in frames
   */
  record Vocabulary(
      MassUnit usual,
      boolean isUnitNeeded,
      Words<MassUnit> units,
      Map<String, Words<Meaning>> tables,
      Words<Meaning> over,
      Words<Meaning> under,
      boolean hasPoint,
      boolean hasComma,
      boolean isFixed) {}

  /** What is to be written: a mass with its stability, or a mark instead. */
  private record Say(Mass mass, Stability stability, Optional<Meaning> mark) {}

  private sealed interface Field {
    /** Where the next field begins, or -1 with a fault in {@code match}. */
    int read(byte[] text, int from, int to, TextMatch match);

    void write(StringBuilder out, Say say);
  }

  private final List<Field> fields;
  private final Vocabulary vocabulary;

  private TextPattern(List<Field> fields, Vocabulary vocabulary) {
    this.fields = fields;
    this.vocabulary = vocabulary;
  }

  /**
   * Reads a pattern.
   *
   * @throws IllegalArgumentException when it is none; the message says what would be right
   */
  static TextPattern parse(String pattern, Vocabulary vocabulary) {
    boolean hasOwnSign = pattern.contains("{sign}");
    List<Field> fields = new ArrayList<>();
    int numbers = 0;
    int index = 0;
    while (index < pattern.length()) {
      char c = pattern.charAt(index);
      if (c == ' ') {
        fields.add(new Blanks());
        index++;
      } else if (c == '{' && !pattern.startsWith("{{", index)) {
        int close = pattern.indexOf('}', index);
        if (close < 0) {
          throw new IllegalArgumentException("'{' without '}' in the pattern");
        }
        Field field = field(pattern.substring(index + 1, close), vocabulary, hasOwnSign);
        if (field instanceof NumberField) {
          numbers++;
        }
        fields.add(field);
        index = close + 1;
      } else {
        if (c < ' ' || c > '~') {
          throw new IllegalArgumentException("a pattern holds printable ASCII characters only");
        }
        if (c == '}' && !pattern.startsWith("}}", index)) {
          throw new IllegalArgumentException("'}' without '{' in the pattern");
        }
        fields.add(new Literal(c));
        index += c == '{' || c == '}' ? 2 : 1;
      }
    }
    if (numbers != 1) {
      throw new IllegalArgumentException(
          "a pattern holds {number} exactly once, this one " + numbers + " times");
    }
    return new TextPattern(List.copyOf(fields), vocabulary);
  }

  private static Field field(String text, Vocabulary vocabulary, boolean hasOwnSign) {
    int colon = text.indexOf(':');
    String name = colon < 0 ? text : text.substring(0, colon);
    String detail = colon < 0 ? "" : text.substring(colon + 1);
    return switch (name) {
      case "number" -> NumberField.parse(detail, vocabulary, hasOwnSign);
      case "skip" -> new Skip(count(detail, "{skip:3}"));
      case "unit" ->
          new UnitField(detail.isEmpty() ? 0 : count(detail, "{unit} or {unit:2}"), vocabulary);
      case "sign" -> {
        if (!detail.isEmpty()) {
          throw new IllegalArgumentException("{sign} takes nothing after a colon");
        }
        yield new SignField();
      }
      default -> {
        Words<Meaning> table = vocabulary.tables().get(name);
        if (table == null || !detail.isEmpty()) {
          List<String> known = new ArrayList<>(List.of("number", "sign", "unit", "skip"));
          known.addAll(vocabulary.tables().keySet());
          throw new IllegalArgumentException(
              "no field {"
                  + text
                  + "}; there are {"
                  + String.join("}, {", known)
                  + "}; a field of status words is made under 'words'");
        }
        yield new WordField(table);
      }
    };
  }

  private static int count(String digits, String right) {
    if (!digits.isEmpty()
        && digits.length() <= 2
        && digits.chars().allMatch(c -> c >= '0' && c <= '9')
        && Integer.parseInt(digits) > 0) {
      return Integer.parseInt(digits);
    }
    throw new IllegalArgumentException("a width is a number from 1 to 99, as in " + right);
  }

  /**
   * True when the text is such a line, or says that there is no weight; else {@code match.fault}.
   */
  boolean read(byte[] text, int from, int to, TextMatch match) {
    match.clear(vocabulary.usual());
    int at = vocabulary.isFixed() ? from : afterBlanks(text, from, to);
    for (Field field : fields) {
      at = field.read(text, at, to, match);
      if (at < 0) {
        return false;
      }
      if (match.isSettled()) {
        return true;
      }
    }
    if (afterBlanks(text, at, to) < to) {
      match.fail("something follows the weight");
      return false;
    }
    return match.conclude();
  }

  /**
   * The line of a weight.
   *
   * @throws ArithmeticException when a fixed width is too narrow for it
   */
  String write(Mass mass, Stability stability) {
    return written(new Say(mass, stability, Optional.empty()));
  }

  /** The line of a load out of range, where this pattern has words for it. */
  Optional<String> writeOutOfRange(boolean over) {
    Meaning mark = over ? Meaning.OVER : Meaning.UNDER;
    boolean hasWord =
        numberMark(vocabulary, mark).isPresent()
            || fields.stream()
                .anyMatch(
                    field ->
                        field instanceof WordField word
                            && word.table().findWord(mark::equals).isPresent());
    return hasWord
        ? Optional.of(written(new Say(Mass.ZERO, Stability.MOVING, Optional.of(mark))))
        : Optional.empty();
  }

  private String written(Say say) {
    StringBuilder out = new StringBuilder();
    for (Field field : fields) {
      field.write(out, say);
    }
    return out.toString();
  }

  private static Optional<String> numberMark(Vocabulary vocabulary, Meaning mark) {
    Words<Meaning> words = mark == Meaning.OVER ? vocabulary.over() : vocabulary.under();
    return words.findWord(mark::equals);
  }

  private static int afterBlanks(byte[] text, int from, int to) {
    int at = from;
    while (at < to && (text[at] == ' ' || text[at] == '\t')) {
      at++;
    }
    return at;
  }

  private record Literal(char character) implements Field {
    @Override
    public int read(byte[] text, int from, int to, TextMatch match) {
      return from < to && text[from] == character
          ? from + 1
          : match.fail("'" + character + "' is missing");
    }

    @Override
    public void write(StringBuilder out, Say say) {
      out.append(character);
    }
  }

  private record Blanks() implements Field {
    @Override
    public int read(byte[] text, int from, int to, TextMatch match) {
      return afterBlanks(text, from, to);
    }

    @Override
    public void write(StringBuilder out, Say say) {
      out.append(' ');
    }
  }

  private record Skip(int count) implements Field {
    @Override
    public int read(byte[] text, int from, int to, TextMatch match) {
      if (to - from < count) {
        return match.fail("the line is too short");
      }
      for (int i = from; i < from + count; i++) {
        if (text[i] < ' ' || text[i] > '~') {
          return match.fail("an unprintable byte");
        }
      }
      return from + count;
    }

    @Override
    public void write(StringBuilder out, Say say) {
      out.append("0".repeat(count));
    }
  }

  private record SignField() implements Field {
    @Override
    public int read(byte[] text, int from, int to, TextMatch match) {
      if (from < to && (text[from] == '+' || text[from] == '-')) {
        return match.sign(text[from] == '-') ? from + 1 : match.fail("two signs");
      }
      return from < to && text[from] == ' ' ? from + 1 : from;
    }

    @Override
    public void write(StringBuilder out, Say say) {
      out.append(say.mass().isNegative() ? '-' : '+');
    }
  }

  private record WordField(Words<Meaning> table) implements Field {
    @Override
    public int read(byte[] text, int from, int to, TextMatch match) {
      int word = table.indexAt(text, from, to);
      if (word < 0) {
        return match.fail("an unknown status word");
      }
      match.mean(table.meaning(word));
      return from + table.length(word);
    }

    @Override
    public void write(StringBuilder out, Say say) {
      Meaning settled = say.stability() == Stability.MOVING ? Meaning.MOVING : Meaning.STABLE;
      Optional<String> mark = say.mark().flatMap(wanted -> word(wanted::equals));
      out.append(
          mark.or(() -> word(settled::equals))
              .or(() -> word(one -> one == Meaning.NET || one == Meaning.GROSS))
              .or(() -> word(one -> one == Meaning.STABLE || one == Meaning.MOVING))
              .orElse(""));
    }

    private Optional<String> word(Predicate<Meaning> wanted) {
      return table.findWord(wanted);
    }
  }

  private record UnitField(int width, Vocabulary vocabulary) implements Field {
    @Override
    public int read(byte[] text, int from, int to, TextMatch match) {
      int at = vocabulary.isFixed() && width > 0 ? afterBlanks(text, from, to) : from;
      int word = vocabulary.units().indexAt(text, at, to);
      if (word >= 0) {
        match.unit(vocabulary.units().meaning(word));
        at += vocabulary.units().length(word);
      } else if (vocabulary.isUnitNeeded()) {
        return match.fail("no known unit");
      } else {
        match.noteMissingUnit();
      }
      if (!vocabulary.isFixed() || width == 0) {
        return at;
      }
      int limit = from + width;
      return at <= limit && limit <= to && afterBlanks(text, at, limit) == limit
          ? limit
          : match.fail("no known unit");
    }

    @Override
    public void write(StringBuilder out, Say say) {
      String word = vocabulary.units().findWord(vocabulary.usual()::equals).orElse("");
      out.append(word).append(" ".repeat(Math.max(0, width - word.length())));
    }
  }

  /**
   * The number, with its sign unless the pattern has a field for that.
   *
   * @param width least characters written; where widths are exact, just so many are read and
   *     written
   * @param decimals digits written after the decimal mark
   */
  private record NumberField(
      int width,
      int decimals,
      boolean showsPlus,
      boolean padsWithZeros,
      boolean hasOwnSign,
      Vocabulary vocabulary)
      implements Field {
    private static final int USUAL_DECIMALS = 1;

    static NumberField parse(String detail, Vocabulary vocabulary, boolean hasOwnSign) {
      String right = "{number}, {number:.2}, {number:8.2} or {number:+08.2}";
      String rest = detail;
      boolean plus = rest.startsWith("+");
      rest = plus ? rest.substring(1) : rest;
      boolean zeros = rest.startsWith("0");
      rest = zeros ? rest.substring(1) : rest;
      int point = rest.indexOf('.');
      String width = point < 0 ? rest : rest.substring(0, point);
      int decimals = USUAL_DECIMALS;
      if (point >= 0) {
        String after = rest.substring(point + 1);
        if (after.length() != 1 || after.charAt(0) < '0' || after.charAt(0) > '9') {
          throw new IllegalArgumentException("decimals are one digit, as in " + right);
        }
        decimals = after.charAt(0) - '0';
      }
      int columns = width.isEmpty() ? 0 : count(width, right);
      if (vocabulary.isFixed() && columns == 0) {
        throw new IllegalArgumentException(
            "where widths are exact the number has one, as in {number:8.2}");
      }
      return new NumberField(columns, decimals, plus, zeros, hasOwnSign, vocabulary);
    }

    @Override
    public int read(byte[] text, int from, int to, TextMatch match) {
      if (!vocabulary.isFixed()) {
        return readFreely(text, from, to, match);
      }
      int limit = from + width;
      if (limit > to) {
        return match.fail("the line is too short");
      }
      int at = readFreely(text, from, limit, match);
      if (at < 0 || match.isSettled()) {
        return at;
      }
      return afterBlanks(text, at, limit) == limit ? limit : match.fail("no number");
    }

    private int readFreely(byte[] text, int from, int to, TextMatch match) {
      int at = afterBlanks(text, from, to);
      if (readMark(text, at, to, match)) {
        return to;
      }
      if (at < to && (text[at] == '+' || text[at] == '-')) {
        if (!match.sign(text[at] == '-')) {
          return match.fail("two signs");
        }
        at = afterBlanks(text, at + 1, to);
        if (readMark(text, at, to, match)) {
          return to;
        }
      }
      return readDigits(text, at, to, match);
    }

    private boolean readMark(byte[] text, int at, int to, TextMatch match) {
      if (vocabulary.over().indexAt(text, at, to) >= 0) {
        match.outOfRange(true);
      } else if (vocabulary.under().indexAt(text, at, to) >= 0) {
        match.outOfRange(false);
      } else {
        return false;
      }
      return true;
    }

    private int readDigits(byte[] text, int from, int to, TextMatch match) {
      long value = 0;
      int digits = 0;
      int markAt = -1;
      int at = from;
      for (; at < to; at++) {
        int c = text[at];
        if (c >= '0' && c <= '9') {
          if (++digits > MOST_DIGITS) {
            return match.fail("more digits than a scale has");
          }
          value = 10 * value + (c - '0');
        } else if (markAt < 0
            && ((c == '.' && vocabulary.hasPoint()) || (c == ',' && vocabulary.hasComma()))) {
          markAt = at;
        } else {
          break;
        }
      }
      if (digits == 0) {
        return match.fail("no number");
      }
      int read = markAt < 0 ? 0 : at - markAt - 1;
      if (markAt >= 0 && read == 0) {
        return match.fail("no digit after the decimal mark");
      }
      if (read > MOST_DECIMALS) {
        return match.fail("more digits than a scale has");
      }
      match.number(value, read);
      return at;
    }

    @Override
    public void write(StringBuilder out, Say say) {
      if (say.mark().isPresent()) {
        String mark = numberMark(vocabulary, say.mark().get()).orElse("");
        out.append(" ".repeat(Math.max(0, width - mark.length()))).append(mark);
        return;
      }
      BigDecimal amount =
          BigDecimal.valueOf(say.mass().nanograms())
              .divide(
                  BigDecimal.valueOf(vocabulary.usual().nanograms()),
                  decimals,
                  RoundingMode.HALF_EVEN);
      String sign = amount.signum() < 0 ? "-" : showsPlus ? "+" : "";
      if (hasOwnSign) {
        sign = "";
      }
      String digits = amount.abs().toPlainString();
      if (!vocabulary.hasPoint()) {
        digits = digits.replace('.', ',');
      }
      int lacking = width - sign.length() - digits.length();
      if (lacking < 0 && vocabulary.isFixed()) {
        throw new ArithmeticException(
            String.format(Locale.ROOT, "%s%s has no room in %d characters", sign, digits, width));
      }
      if (padsWithZeros) {
        out.append(sign).append("0".repeat(Math.max(0, lacking))).append(digits);
      } else {
        out.append(" ".repeat(Math.max(0, lacking))).append(sign).append(digits);
      }
    }
  }
}
