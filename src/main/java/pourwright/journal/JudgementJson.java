package pourwright.journal;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import pourwright.compare.Alignment;
import pourwright.compare.Comparison;
import pourwright.compare.Verdict;
import pourwright.detect.Basis;
import pourwright.detect.Disturbance;
import pourwright.detect.Findings;
import pourwright.detect.PourEvent;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Events, findings and comparisons as JSON that is read back exactly as it was written: times are
 * whole nanoseconds ({@code _ns}), masses whole nanograms ({@code _ng}), flows whole nanograms a
 * second, names are words and never ordinals. What is not known is absent.
 */
public final class JudgementJson {
  private static final ObjectMapper MAPPER = new ObjectMapper();
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

  private JudgementJson() {}

  /** A whole judgement as one document. */
  public static String write(Judgement judgement) {
    ObjectNode json =
        NODES
            .objectNode()
            .put("detector", judgement.detector())
            .put("made_at", judgement.madeAt().toString());
    json.set("announced", array(judgement.announced(), JudgementJson::object));
    json.set("findings", object(judgement.findings()));
    judgement.comparison().ifPresent(made -> json.set("comparison", object(made)));
    return json.toString();
  }

  /**
   * Reads what {@link #write(Judgement)} wrote.
   *
   * @throws IllegalArgumentException when it is anything else
   */
  public static Judgement read(String text) {
    JsonNode json = parse(text);
    try {
      return new Judgement(
          whole(json, "detector"),
          Instant.parse(text(json, "made_at")),
          list(json.path("announced"), JudgementJson::event),
          findings(required(json, "findings")),
          find(json, "comparison", JudgementJson::comparison));
    } catch (NoSuchElementException | DateTimeParseException wrong) {
      throw new IllegalArgumentException("holds an unknown word", wrong);
    }
  }

  // ---- events

  static String write(PourEvent event) {
    return object(event).toString();
  }

  static String writeEvents(List<PourEvent> events) {
    return array(events, JudgementJson::object).toString();
  }

  static PourEvent readEvent(String text) {
    return event(parse(text));
  }

  static List<PourEvent> readEvents(String text) {
    return list(parse(text), JudgementJson::event);
  }

  private static ObjectNode object(PourEvent event) {
    ObjectNode json =
        NODES
            .objectNode()
            .put("at_ns", event.at().nanos())
            .put("known_at_ns", event.knownAt().nanos());
    if (event instanceof PourEvent.PourStarted start) {
      return json.put("event", "pour_started").put("index", start.index());
    } else if (event instanceof PourEvent.PourEnded end) {
      return json.put("event", "pour_ended")
          .put("index", end.index())
          .put("poured_ng", end.poured().nanograms());
    } else if (event instanceof PourEvent.BedDrained bed) {
      return json.put("event", "bed_drained")
          .put("after_pour", bed.afterPour())
          .put("basis", word(bed.basis()));
    } else if (event instanceof PourEvent.DripperLifted lift) {
      json.put("event", "dripper_lifted").put("removed_ng", lift.removed().nanograms());
      lift.beverage().ifPresent(beverage -> json.put("beverage_ng", beverage.nanograms()));
      return json;
    } else if (event instanceof PourEvent.Tared tare) {
      return json.put("event", "tared")
          .put("place", tare.place().word())
          .put("taken_ng", tare.taken().nanograms());
    } else if (event instanceof PourEvent.Disturbed disturbed) {
      return json.put("event", "disturbed")
          .put("until_ns", disturbed.until().nanos())
          .put("kind", word(disturbed.kind()));
    } else if (event instanceof PourEvent.Discarded) {
      return json.put("event", "discarded");
    }
    PourEvent.ReadingsMissed missed = (PourEvent.ReadingsMissed) event;
    return json.put("event", "readings_missed").put("place", missed.place().word());
  }

  private static PourEvent event(JsonNode json) {
    SessionTime at = time(json, "at_ns");
    SessionTime known = time(json, "known_at_ns");
    String kind = text(json, "event");
    return switch (kind) {
      case "pour_started" -> new PourEvent.PourStarted(whole(json, "index"), at, known);
      case "pour_ended" ->
          new PourEvent.PourEnded(whole(json, "index"), at, known, mass(json, "poured_ng"));
      case "bed_drained" ->
          new PourEvent.BedDrained(
              whole(json, "after_pour"), at, known, named(Basis.class, json, "basis"));
      case "dripper_lifted" ->
          new PourEvent.DripperLifted(
              at, known, mass(json, "removed_ng"), findMass(json, "beverage_ng"));
      case "tared" -> new PourEvent.Tared(place(json, "place"), at, known, mass(json, "taken_ng"));
      case "disturbed" ->
          new PourEvent.Disturbed(
              at, time(json, "until_ns"), known, named(Disturbance.Kind.class, json, "kind"));
      case "discarded" -> new PourEvent.Discarded(at, known);
      case "readings_missed" -> new PourEvent.ReadingsMissed(place(json, "place"), at, known);
      default -> throw new IllegalArgumentException("unknown event " + kind);
    };
  }

  // ---- findings

  static String write(Findings findings) {
    return object(findings).toString();
  }

  static Findings readFindings(String text) {
    return findings(parse(text));
  }

  private static ObjectNode object(Findings findings) {
    ObjectNode json = NODES.objectNode().put("rig", findings.rig().word());
    json.set("pours", array(findings.pours(), JudgementJson::object));
    json.set("drawdowns", array(findings.drawdowns(), JudgementJson::object));
    findings.lift().ifPresent(lift -> json.set("lift", object(lift)));
    json.set("disturbances", array(findings.disturbances(), JudgementJson::object));
    json.set("gaps", array(findings.gaps(), JudgementJson::object));
    json.set("warnings", array(findings.warnings(), NODES::textNode));
    return json;
  }

  private static Findings findings(JsonNode json) {
    return new Findings(
        Rig.findByWord(text(json, "rig")).orElseThrow(),
        list(json.path("pours"), JudgementJson::pour),
        list(json.path("drawdowns"), JudgementJson::drawdown),
        find(json, "lift", JudgementJson::lift),
        list(json.path("disturbances"), JudgementJson::disturbance),
        list(json.path("gaps"), JudgementJson::gap),
        list(json.path("warnings"), JsonNode::asText));
  }

  private static ObjectNode object(Findings.Pour pour) {
    ObjectNode json =
        NODES
            .objectNode()
            .put("index", pour.index())
            .put("start_ns", pour.start().nanos())
            .put("end_ns", pour.end().nanos())
            .put("poured_ng", pour.poured().nanograms())
            .put("mean_flow_ng_per_s", pour.meanFlow().nanogramsPerSecond())
            .put("across_gap", pour.acrossGap());
    pour.startAnnounced().ifPresent(at -> json.put("start_announced_ns", at.nanos()));
    pour.endAnnounced().ifPresent(at -> json.put("end_announced_ns", at.nanos()));
    return json;
  }

  private static Findings.Pour pour(JsonNode json) {
    return new Findings.Pour(
        whole(json, "index"),
        time(json, "start_ns"),
        time(json, "end_ns"),
        mass(json, "poured_ng"),
        flow(json, "mean_flow_ng_per_s"),
        find(json, "start_announced_ns", at -> SessionTime.ofNanos(at.asLong())),
        find(json, "end_announced_ns", at -> SessionTime.ofNanos(at.asLong())),
        required(json, "across_gap").asBoolean());
  }

  private static ObjectNode object(Findings.Drawdown drawdown) {
    return NODES
        .objectNode()
        .put("after_pour", drawdown.afterPour())
        .put("start_ns", drawdown.start().nanos())
        .put("end_ns", drawdown.end().nanos())
        .put("basis", word(drawdown.basis()));
  }

  private static Findings.Drawdown drawdown(JsonNode json) {
    return new Findings.Drawdown(
        whole(json, "after_pour"),
        time(json, "start_ns"),
        time(json, "end_ns"),
        named(Basis.class, json, "basis"));
  }

  private static ObjectNode object(Findings.Lift lift) {
    ObjectNode json =
        NODES
            .objectNode()
            .put("at_ns", lift.time().nanos())
            .put("removed_ng", lift.removed().nanograms());
    lift.beverage().ifPresent(beverage -> json.put("beverage_ng", beverage.nanograms()));
    return json;
  }

  private static Findings.Lift lift(JsonNode json) {
    return new Findings.Lift(
        time(json, "at_ns"), mass(json, "removed_ng"), findMass(json, "beverage_ng"));
  }

  private static ObjectNode object(Disturbance disturbance) {
    return NODES
        .objectNode()
        .put("start_ns", disturbance.start().nanos())
        .put("end_ns", disturbance.end().nanos())
        .put("kind", word(disturbance.kind()));
  }

  private static Disturbance disturbance(JsonNode json) {
    return new Disturbance(
        time(json, "start_ns"), time(json, "end_ns"), named(Disturbance.Kind.class, json, "kind"));
  }

  private static ObjectNode object(Findings.Gap gap) {
    return NODES
        .objectNode()
        .put("place", gap.place().word())
        .put("start_ns", gap.start().nanos())
        .put("end_ns", gap.end().nanos());
  }

  private static Findings.Gap gap(JsonNode json) {
    return new Findings.Gap(place(json, "place"), time(json, "start_ns"), time(json, "end_ns"));
  }

  // ---- comparison

  static String write(Comparison comparison) {
    return object(comparison).toString();
  }

  static Comparison readComparison(String text) {
    return comparison(parse(text));
  }

  private static ObjectNode object(Comparison comparison) {
    ObjectNode json = NODES.objectNode().put("deviation_index", comparison.deviationIndex());
    json.set("pours", array(comparison.pours(), JudgementJson::object));
    json.set("shares", array(comparison.shares(), JudgementJson::object));
    json.set("links", array(comparison.alignment().links(), JudgementJson::object));
    return json.put("cost", comparison.alignment().cost());
  }

  private static Comparison comparison(JsonNode json) {
    return new Comparison(
        list(json.path("pours"), JudgementJson::judged),
        required(json, "deviation_index").asDouble(),
        list(json.path("shares"), JudgementJson::share),
        new Alignment(
            list(json.path("links"), JudgementJson::link), required(json, "cost").asDouble()));
  }

  private static ObjectNode object(Comparison.JudgedPour pour) {
    ObjectNode json = NODES.objectNode();
    pour.planned().ifPresent(planned -> json.put("planned", planned));
    json.set("made", array(pour.made(), NODES::numberNode));
    json.put("verdict", pour.verdict().word()).put("mass_error_ng", pour.massError().nanograms());
    pour.placing().ifPresent(placing -> json.set("placing", object(placing)));
    json.set("reasons", array(pour.reasons(), NODES::textNode));
    return json;
  }

  private static Comparison.JudgedPour judged(JsonNode json) {
    return new Comparison.JudgedPour(
        json.has("planned") ? OptionalInt.of(whole(json, "planned")) : OptionalInt.empty(),
        list(json.path("made"), JsonNode::asInt),
        named(Verdict.class, json, "verdict"),
        mass(json, "mass_error_ng"),
        find(json, "placing", JudgementJson::placing),
        list(json.path("reasons"), JsonNode::asText));
  }

  private static ObjectNode object(Comparison.Placing placing) {
    ObjectNode json =
        NODES
            .objectNode()
            .put("start_error_ns", placing.startError().toNanos())
            .put("length_error_ns", placing.lengthError().toNanos())
            .put("flow_error_ng_per_s", placing.flowError().nanogramsPerSecond())
            .put("departure_ng", placing.departure().by().nanograms())
            .put("departure_at_ns", placing.departure().at().nanos());
    placing.unsteadiness().ifPresent(share -> json.put("unsteadiness", share));
    return json;
  }

  private static Comparison.Placing placing(JsonNode json) {
    return new Comparison.Placing(
        Duration.ofNanos(required(json, "start_error_ns").asLong()),
        Duration.ofNanos(required(json, "length_error_ns").asLong()),
        flow(json, "flow_error_ng_per_s"),
        new Comparison.Departure(mass(json, "departure_ng"), time(json, "departure_at_ns")),
        json.has("unsteadiness")
            ? OptionalDouble.of(required(json, "unsteadiness").asDouble())
            : OptionalDouble.empty());
  }

  private static ObjectNode object(Comparison.Share share) {
    return NODES
        .objectNode()
        .put("line", share.line())
        .put("kind", word(share.kind()))
        .put("part", share.part());
  }

  private static Comparison.Share share(JsonNode json) {
    return new Comparison.Share(
        whole(json, "line"),
        named(Comparison.Kind.class, json, "kind"),
        required(json, "part").asDouble());
  }

  private static ObjectNode object(Alignment.Link link) {
    return NODES
        .objectNode()
        .put("first_planned", link.firstPlanned())
        .put("last_planned", link.lastPlanned())
        .put("first_made", link.firstMade())
        .put("last_made", link.lastMade());
  }

  private static Alignment.Link link(JsonNode json) {
    return new Alignment.Link(
        whole(json, "first_planned"),
        whole(json, "last_planned"),
        whole(json, "first_made"),
        whole(json, "last_made"));
  }

  // ---- the small change

  private static JsonNode parse(String text) {
    try {
      return MAPPER.readTree(text);
    } catch (JsonProcessingException broken) {
      throw new IllegalArgumentException("not readable as JSON", broken);
    }
  }

  private static <T> ArrayNode array(List<T> values, Function<T, ? extends JsonNode> node) {
    ArrayNode array = NODES.arrayNode();
    values.forEach(value -> array.add(node.apply(value)));
    return array;
  }

  private static <T> List<T> list(JsonNode array, Function<JsonNode, T> value) {
    List<T> values = new ArrayList<>();
    array.forEach(each -> values.add(value.apply(each)));
    return values;
  }

  private static JsonNode required(JsonNode json, String name) {
    @Nullable JsonNode value = json.get(name);
    if (value == null) {
      throw new IllegalArgumentException(name + " is missing");
    }
    return value;
  }

  private static <T> Optional<T> find(JsonNode json, String name, Function<JsonNode, T> value) {
    return Optional.ofNullable(json.get(name)).map(value);
  }

  private static String text(JsonNode json, String name) {
    return required(json, name).asText();
  }

  private static int whole(JsonNode json, String name) {
    return required(json, name).asInt();
  }

  private static SessionTime time(JsonNode json, String name) {
    return SessionTime.ofNanos(required(json, name).asLong());
  }

  private static Mass mass(JsonNode json, String name) {
    return Mass.ofNanograms(required(json, name).asLong());
  }

  private static Optional<Mass> findMass(JsonNode json, String name) {
    return find(json, name, value -> Mass.ofNanograms(value.asLong()));
  }

  private static Flow flow(JsonNode json, String name) {
    return Flow.ofNanogramsPerSecond(required(json, name).asLong());
  }

  private static Place place(JsonNode json, String name) {
    return Place.findByWord(text(json, name)).orElseThrow();
  }

  private static <T extends Enum<T>> T named(Class<T> type, JsonNode json, String name) {
    return Enum.valueOf(type, text(json, name).toUpperCase(Locale.ROOT));
  }

  private static String word(Enum<?> value) {
    return value.name().toLowerCase(Locale.ROOT);
  }
}
