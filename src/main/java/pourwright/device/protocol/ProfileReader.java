package pourwright.device.protocol;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.UUID;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.api.lowlevel.Compose;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;
import org.snakeyaml.engine.v2.nodes.Node;
import pourwright.device.BleSettings;
import pourwright.device.BleSettings.KeepAlive;
import pourwright.device.Bytes;
import pourwright.device.LineSettings;
import pourwright.device.ScaleCommands;
import pourwright.device.protocol.BinaryFrame.Fixed;
import pourwright.device.protocol.BinaryFrame.Mark;
import pourwright.device.protocol.BinaryFrame.Parts;
import pourwright.device.protocol.BinaryFrame.Sign;
import pourwright.device.protocol.BinaryFrame.Step;
import pourwright.device.protocol.BinaryFrame.UnitChoice;
import pourwright.device.protocol.BinaryFrame.UnitCode;
import pourwright.device.protocol.BinaryFrame.Whole;
import pourwright.device.protocol.ProfileNode.Section;
import pourwright.device.protocol.TextPattern.Vocabulary;
import pourwright.units.MassUnit;

/** Reads a profile from its text; the format is described in {@code hardware-notes/profiles.md}. */
public final class ProfileReader {
  private static final int LONGEST_FRAME = 64;
  private static final int LONGEST_WAIT = 600;
  private static final LoadSettings YAML = LoadSettings.builder().build();

  private ProfileReader() {}

  /**
   * Reads one profile.
   *
   * @param text YAML
   * @param source name of the file, for messages
   * @throws InvalidProfileException when anything in it is wrong or unknown
   */
  public static Profile read(String text, String source) throws InvalidProfileException {
    Node root;
    try {
      root =
          new Compose(YAML)
              .composeString(text)
              .orElseThrow(() -> new InvalidProfileException(source + ": the profile is empty"));
    } catch (MarkedYamlEngineException e) {
      String place =
          e.getProblemMark()
              .map(mark -> (mark.getLine() + 1) + ":" + (mark.getColumn() + 1) + ": ")
              .orElse(" ");
      throw new InvalidProfileException(source + ":" + place + "no YAML: " + e.getProblem());
    } catch (YamlEngineException e) {
      throw new InvalidProfileException(source + ": no YAML: " + e.getMessage());
    }
    return profile(new ProfileNode(source, "the profile", root));
  }

  private static Profile profile(ProfileNode root) throws InvalidProfileException {
    Section top =
        root.section(
            "format",
            "name",
            "about",
            "caution",
            "link",
            "ble",
            "text",
            "frame",
            "binary",
            "standard",
            "commands");
    top.need("format").whole(1, 1);
    ProfileNode name = top.need("name");
    if (!name.text().matches("[a-z0-9]+(-[a-z0-9]+)*")) {
      throw name.wrong(
          "a name holds small letters, digits and hyphens, as in number-unit, not '"
              + name.text()
              + "'");
    }
    Shape shape = shape(top, root);
    return new Profile(
        name.text(),
        top.need("about").text(),
        top.find("link").isPresent() ? link(top.need("link")) : LineSettings.COMMON,
        shape,
        top.find("commands").isPresent() ? commands(top.need("commands")) : ScaleCommands.NONE,
        top.find("ble").isPresent() ? Optional.of(ble(top.need("ble"), shape)) : Optional.empty(),
        top.find("caution").isPresent()
            ? Optional.of(top.need("caution").text())
            : Optional.empty());
  }

  private static LineSettings link(ProfileNode node) throws InvalidProfileException {
    Section link = node.section("baud", "bits", "parity", "stop", "flow");
    LineSettings usual = LineSettings.COMMON;
    return new LineSettings(
        wholeOr(link, "baud", 50, 4_000_000, usual.baud()),
        wholeOr(link, "bits", 5, 8, usual.dataBits()),
        link.find("parity").isPresent()
            ? link.need("parity").oneOf(LineSettings.Parity.values())
            : usual.parity(),
        wholeOr(link, "stop", 1, 2, usual.stopBits()),
        link.find("flow").isPresent()
            ? link.need("flow").oneOf(LineSettings.FlowControl.values())
            : usual.flowControl());
  }

  private static BleSettings ble(ProfileNode node, Shape shape) throws InvalidProfileException {
    Section ble =
        node.section("service", "weight", "commands", "answered", "keep-alive", "payload", "quiet");
    boolean needsMessages =
        shape instanceof WeightMeasurement
            || (shape instanceof BinaryFrame frame && frame.header().size() == 0);
    boolean isMessageWise =
        ble.find("payload").isPresent()
            ? ble.need("payload").oneOf(Map.of("stream", false, "message", true))
            : needsMessages;
    if (needsMessages && !isMessageWise) {
      throw ble.need("payload").wrong("such weights can only be told apart as whole messages");
    }
    Optional<UUID> commands =
        ble.find("commands").isPresent()
            ? Optional.of(ble.need("commands").uuid())
            : Optional.empty();
    return new BleSettings(
        ble.need("service").uuid(),
        ble.need("weight").uuid(),
        commands,
        ble.find("answered").isEmpty() || ble.need("answered").yesOrNo(),
        keepAlive(ble, commands),
        isMessageWise,
        ble.find("quiet").isPresent()
            ? ble.need("quiet").seconds(LONGEST_WAIT)
            : BleSettings.USUAL_QUIET);
  }

  private static Optional<KeepAlive> keepAlive(Section ble, Optional<UUID> commands)
      throws InvalidProfileException {
    if (ble.find("keep-alive").isEmpty()) {
      return Optional.empty();
    }
    if (commands.isEmpty()) {
      throw ble.need("keep-alive").wrong("'keep-alive' needs 'commands', to know where to write");
    }
    Section keep = ble.need("keep-alive").section("text", "hex", "every");
    return Optional.of(
        new KeepAlive(written(keep, "keep-alive"), keep.need("every").seconds(LONGEST_WAIT)));
  }

  private static ScaleCommands commands(ProfileNode node) throws InvalidProfileException {
    Section commands = node.section("start", "tare", "zero");
    return new ScaleCommands(
        command(commands, "start"), command(commands, "tare"), command(commands, "zero"));
  }

  private static Optional<Bytes> command(Section commands, String key)
      throws InvalidProfileException {
    if (commands.find(key).isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(written(commands.need(key).section("text", "hex"), key));
  }

  private static Bytes written(Section command, String key) throws InvalidProfileException {
    if (command.find("text").isPresent() == command.find("hex").isPresent()) {
      throw command
          .place()
          .wrong("'" + key + "' should be either {text: \"T\\r\\n\"} or {hex: 54 0d 0a}");
    }
    Bytes bytes =
        command.find("hex").isPresent() ? command.need("hex").hex() : ascii(command.need("text"));
    if (bytes.size() == 0) {
      throw command.place().wrong("'" + key + "' sends nothing");
    }
    return bytes;
  }

  private static Bytes ascii(ProfileNode node) throws InvalidProfileException {
    if (node.text().chars().anyMatch(c -> c > 0x7e)) {
      throw node.wrong("a command's text holds ASCII only; write other bytes as {hex: ...}");
    }
    return Bytes.ofAscii(node.text());
  }

  private static Shape shape(Section top, ProfileNode root) throws InvalidProfileException {
    List<String> shapes = new ArrayList<>();
    for (String one : List.of("text", "frame", "binary", "standard")) {
      if (top.find(one).isPresent()) {
        shapes.add(one);
      }
    }
    if (shapes.size() != 1) {
      throw root.wrong("a profile has exactly one of text, frame, binary and standard");
    }
    ProfileNode node = top.need(shapes.get(0));
    return switch (shapes.get(0)) {
      case "text" -> text(node);
      case "frame" -> frame(node);
      case "standard" -> node.oneOf(Map.of("weight-measurement", new WeightMeasurement()));
      default -> binary(node, top.find("ble").isPresent());
    };
  }

  private static TextLines text(ProfileNode node) throws InvalidProfileException {
    Section text =
        node.section(
            "pattern", "unit", "units", "words", "over", "under", "decimal", "end", "widths");
    boolean isFixed =
        text.find("widths").isPresent()
            && text.need("widths").oneOf(Map.of("least", false, "exact", true));
    Vocabulary vocabulary = vocabulary(text, isFixed);
    ProfileNode pattern = text.need("pattern");
    List<TextPattern> patterns = new ArrayList<>();
    for (ProfileNode one : pattern.isList() ? pattern.items() : List.of(pattern)) {
      patterns.add(pattern(one, vocabulary));
    }
    if (patterns.isEmpty()) {
      throw pattern.wrong("'pattern' should be a pattern or a list of them");
    }
    String end =
        text.find("end").isPresent()
            ? text.need("end").oneOf(Map.of("cr", "\r", "lf", "\n", "crlf", "\r\n"))
            : "\r\n";
    return new TextLines(patterns, end);
  }

  private static TextPattern pattern(ProfileNode node, Vocabulary vocabulary)
      throws InvalidProfileException {
    try {
      return TextPattern.parse(node.text(), vocabulary);
    } catch (IllegalArgumentException e) {
      throw node.wrong(String.valueOf(e.getMessage()));
    }
  }

  private static Vocabulary vocabulary(Section text, boolean isFixed)
      throws InvalidProfileException {
    Map<String, MassUnit> units = new LinkedHashMap<>();
    Map<String, MassUnit> symbols = new LinkedHashMap<>();
    for (MassUnit unit : MassUnit.values()) {
      units.put(unit.symbol(), unit);
      symbols.put(unit.symbol(), unit);
    }
    if (text.find("units").isPresent()) {
      for (Map.Entry<String, ProfileNode> entry : text.need("units").entries().entrySet()) {
        if (entry.getKey().isEmpty()) {
          throw entry.getValue().wrong("a unit word holds at least one character");
        }
        units.put(entry.getKey(), entry.getValue().oneOf(symbols));
      }
    }
    Map<String, Words<Meaning>> tables = new LinkedHashMap<>();
    if (text.find("words").isPresent()) {
      for (Map.Entry<String, ProfileNode> entry : text.need("words").entries().entrySet()) {
        tables.put(entry.getKey(), table(entry.getValue()));
      }
    }
    String decimal =
        text.find("decimal").isPresent()
            ? text.need("decimal")
                .oneOf(Map.of("point", "point", "comma", "comma", "either", "either"))
            : "either";
    boolean hasUsual = text.find("unit").isPresent();
    return new Vocabulary(
        hasUsual ? text.need("unit").oneOf(symbols) : MassUnit.GRAM,
        !hasUsual,
        Words.inAnyCase(units),
        tables,
        marks(text, "over", Meaning.OVER),
        marks(text, "under", Meaning.UNDER),
        !decimal.equals("comma"),
        !decimal.equals("point"),
        isFixed);
  }

  private static Words<Meaning> table(ProfileNode node) throws InvalidProfileException {
    Map<String, Meaning> words = new LinkedHashMap<>();
    for (Map.Entry<String, ProfileNode> entry : node.entries().entrySet()) {
      words.put(entry.getKey(), entry.getValue().oneOf(Meaning.values()));
    }
    return Words.exactly(words);
  }

  private static Words<Meaning> marks(Section text, String key, Meaning meaning)
      throws InvalidProfileException {
    Map<String, Meaning> words = new LinkedHashMap<>();
    if (text.find(key).isPresent()) {
      for (ProfileNode word : text.need(key).items()) {
        if (word.text().isEmpty()) {
          throw word.wrong("a mark holds at least one character");
        }
        words.put(word.text(), meaning);
      }
    }
    return Words.exactly(words);
  }

  private static ControlFrame frame(ProfileNode node) throws InvalidProfileException {
    Section frame =
        node.section(
            "start", "width", "pattern", "end", "tail", "check", "unit", "units", "words", "over",
            "under", "decimal");
    Bytes start = frame.need("start").hex();
    if (start.size() == 0) {
      throw frame.need("start").wrong("'start' holds at least one byte");
    }
    int width = frame.need("width").whole(1, LONGEST_FRAME);
    TextPattern pattern = pattern(frame.need("pattern"), vocabulary(frame, true));
    Bytes end = frame.find("end").isPresent() ? frame.need("end").hex() : Bytes.NONE;
    Bytes tail = frame.find("tail").isPresent() ? frame.need("tail").hex() : Bytes.NONE;
    int textEnd = start.size() + width;
    if (frame.find("check").isEmpty()) {
      CheckField none = new CheckField(Checksum.NONE, 0, 0, 0, true, false);
      return new ControlFrame(start, width, pattern, end, textEnd, tail, none);
    }
    Section check = frame.need("check").section("kind", "covers", "place", "form", "order");
    Checksum kind = check.need("kind").oneOf(Checksum.values());
    boolean isHex =
        check.find("form").isPresent()
            && check.need("form").oneOf(Map.of("byte", false, "hex", true));
    boolean isBeforeEnd =
        check.find("place").isPresent()
            && check.need("place").oneOf(Map.of("after-end", false, "before-end", true));
    String covers =
        check
            .need("covers")
            .oneOf(
                Map.of(
                    "text", "text",
                    "start+text", "start+text",
                    "text+end", "text+end",
                    "start+text+end", "start+text+end"));
    if (isBeforeEnd && covers.endsWith("end")) {
      throw check.need("covers").wrong("a check that stands before the end cannot cover it");
    }
    int checkAt = isBeforeEnd ? textEnd : textEnd + end.size();
    CheckField field =
        new CheckField(
            kind,
            checkAt,
            covers.startsWith("start") ? 0 : start.size(),
            covers.endsWith("end") ? textEnd + end.size() : textEnd,
            isBigEndian(check),
            isHex);
    int endAt = isBeforeEnd ? textEnd + CheckField.size(kind, isHex) : textEnd;
    return new ControlFrame(start, width, pattern, end, endAt, tail, field);
  }

  private static BinaryFrame binary(ProfileNode node, boolean mayLackHeader)
      throws InvalidProfileException {
    Section frame =
        node.section(
            "header",
            "length",
            "weight",
            "step",
            "unit",
            "exponent",
            "fixed",
            "stable",
            "negative",
            "over",
            "under",
            "battery",
            "check");
    Bytes header =
        mayLackHeader && frame.find("header").isEmpty() ? Bytes.NONE : frame.need("header").hex();
    int length = frame.need("length").whole(1, LONGEST_FRAME);
    if ((header.size() == 0 && !mayLackHeader) || header.size() >= length) {
      throw frame.need("header").wrong("'header' holds at least one byte, fewer than 'length'");
    }
    if (frame.find("step").isPresent() == frame.find("unit").isPresent()) {
      throw node.wrong("a binary frame has either 'step' (as in 0.01 g) or 'unit'");
    }
    Optional<UnitChoice> unit =
        frame.find("unit").isPresent()
            ? Optional.of(unitChoice(frame.need("unit"), length))
            : Optional.empty();
    Step step = unit.isPresent() ? unit.get().codes().get(0).step() : step(frame.need("step"));
    List<Fixed> fixed = new ArrayList<>();
    if (frame.find("fixed").isPresent()) {
      for (ProfileNode one : frame.need("fixed").items()) {
        Section place = one.section("at", "is");
        fixed.add(
            new Fixed(place.need("at").whole(0, length - 1), place.need("is").whole(0, 0xff)));
      }
    }
    Parts parts =
        new Parts(
            List.copyOf(fixed),
            unit,
            place(frame, "exponent", length),
            mark(frame, "stable", length),
            mark(frame, "negative", length),
            mark(frame, "over", length),
            mark(frame, "under", length),
            place(frame, "battery", length));
    return new BinaryFrame(
        header, length, weight(frame.need("weight"), length), step, parts, check(frame, length));
  }

  private static Whole weight(ProfileNode node, int length) throws InvalidProfileException {
    Section weight = node.section("at", "bits", "sign", "order");
    int bits = weight.need("bits").oneOf(Map.of("8", 8, "16", 16, "24", 24, "32", 32));
    return new Whole(
        weight.need("at").whole(0, length - bits / 8),
        bits / 8,
        weight.find("sign").isPresent() ? weight.need("sign").oneOf(Sign.values()) : Sign.NONE,
        isBigEndian(weight));
  }

  private static boolean isBigEndian(Section section) throws InvalidProfileException {
    return section.find("order").isEmpty()
        || section.need("order").oneOf(Map.of("big", true, "little", false));
  }

  private static UnitChoice unitChoice(ProfileNode node, int length)
      throws InvalidProfileException {
    Section unit = node.section("at", "mask", "steps");
    List<UnitCode> codes = new ArrayList<>();
    int mask = wholeOr(unit, "mask", 1, 0xff, 0xff);
    for (Map.Entry<String, ProfileNode> entry : unit.need("steps").entries().entrySet()) {
      int code;
      try {
        code = Integer.decode(entry.getKey());
      } catch (NumberFormatException e) {
        code = -1;
      }
      if (code < 0 || (code & ~mask) != 0) {
        throw entry
            .getValue()
            .wrong("'" + entry.getKey() + "' should be a code within the mask, as in 0x01: 0.1 g");
      }
      codes.add(new UnitCode(code, step(entry.getValue())));
    }
    if (codes.isEmpty()) {
      throw unit.need("steps").wrong("'steps' names no unit");
    }
    return new UnitChoice(unit.need("at").whole(0, length - 1), mask, List.copyOf(codes));
  }

  private static Step step(ProfileNode node) throws InvalidProfileException {
    String[] parts = node.text().split(" ", -1);
    for (MassUnit unit : MassUnit.values()) {
      if (parts.length == 2
          && parts[1].equals(unit.symbol())
          && parts[0].matches("\\d{1,6}(\\.\\d{1,9})?")
          && new BigDecimal(parts[0]).signum() > 0) {
        return Step.of(new BigDecimal(parts[0]).multiply(BigDecimal.valueOf(unit.nanograms())));
      }
    }
    throw node.wrong(
        "a step is a number above 0 and a unit, as in 0.01 g, not '" + node.text() + "'");
  }

  private static OptionalInt place(Section frame, String key, int length)
      throws InvalidProfileException {
    if (frame.find(key).isEmpty()) {
      return OptionalInt.empty();
    }
    return OptionalInt.of(frame.need(key).section("at").need("at").whole(0, length - 1));
  }

  private static Optional<Mark> mark(Section frame, String key, int length)
      throws InvalidProfileException {
    if (frame.find(key).isEmpty()) {
      return Optional.empty();
    }
    Section mark = frame.need(key).section("at", "mask", "is");
    int mask = mark.need("mask").whole(1, 0xff);
    int value = wholeOr(mark, "is", 0, 0xff, mask);
    if ((value & ~mask) != 0) {
      throw mark.need("is").wrong("'is' has bits that 'mask' leaves out");
    }
    return Optional.of(new Mark(mark.need("at").whole(0, length - 1), mask, value));
  }

  private static CheckField check(Section frame, int length) throws InvalidProfileException {
    if (frame.find("check").isEmpty()) {
      return new CheckField(Checksum.NONE, 0, 0, 0, true, false);
    }
    Section check = frame.need("check").section("kind", "at", "from", "to", "order");
    Checksum kind = check.need("kind").oneOf(Checksum.values());
    int at = check.need("at").whole(0, length - Math.max(1, kind.size()));
    int from = wholeOr(check, "from", 0, length - 1, 0);
    int to = wholeOr(check, "to", from + 1, length, at);
    if (at < to && at + kind.size() > from) {
      throw check.place().wrong("a check cannot cover itself");
    }
    return new CheckField(kind, at, from, to, isBigEndian(check), false);
  }

  private static int wholeOr(Section section, String key, int least, int greatest, int otherwise)
      throws InvalidProfileException {
    return section.find(key).isPresent() ? section.need(key).whole(least, greatest) : otherwise;
  }
}
