package pourwright.exchange;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeMap;
import pourwright.coach.Feedback;
import pourwright.journal.KeptRun;
import pourwright.journal.RunEntry;
import pourwright.journal.StrengthReading;
import pourwright.journal.TasteItem;
import pourwright.journal.Tasting;
import pourwright.journal.WholeRun;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.RunStart;
import pourwright.session.Stand;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** What is known of a run beside its weights and its plan, as JSON for people and programs. */
final class RunJson {
  private static final int FORMAT = 1;
  private static final int BILLIONTHS = 9;
  private static final int LONGEST_TEXT = 100_000;
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;
  private static final ObjectMapper MAPPER = mapper();

  private RunJson() {}

  private static ObjectMapper mapper() {
    ObjectMapper mapper = new ObjectMapper();
    mapper
        .getFactory()
        .setStreamReadConstraints(
            StreamReadConstraints.builder()
                .maxNestingDepth(20)
                .maxStringLength(LONGEST_TEXT)
                .build());
    return mapper;
  }

  static byte[] write(WholeRun whole) throws IOException {
    KeptRun run = whole.run();
    RunEntry entry = run.entry();
    ObjectNode json =
        NODES
            .objectNode()
            .put("format", FORMAT)
            .put("rehearsal", whole.key())
            .put("lane", whole.lane())
            .put("recorded_at", entry.startedAt().toString())
            .put("program", run.program())
            .put("brewer", entry.brewer())
            .put("rig", entry.rig().word())
            .put("simulated", entry.isSimulated())
            .put("feedback", entry.feedback().word())
            .put("faded_runs_before", whole.fadedRun())
            .put("ended", entry.state().word())
            .put("length_s", seconds(entry.length()))
            .put("void", entry.isVoid())
            .put("note", entry.note());
    ArrayNode scales = json.putArray("scales");
    for (RunStart.HeardScale scale : run.scales()) {
      ObjectNode one =
          scales
              .addObject()
              .put("place", scale.stand().place().word())
              .put("address", scale.address())
              .put("profile", scale.profile());
      scale.lagSeconds().ifPresent(lag -> one.put("lag_s", lag));
      scale.noiseGrams().ifPresent(noise -> one.put("noise_g", noise));
    }
    ArrayNode strengths = json.putArray("strengths");
    for (StrengthReading strength : run.strengths()) {
      ObjectNode one =
          strengths
              .addObject()
              .put("at", strength.at().toString())
              .put("percent", strength.percent());
      strength.uncertaintyPercent().ifPresent(value -> one.put("uncertainty_percent", value));
      one.put("instrument", strength.instrument());
    }
    ArrayNode tastings = json.putArray("tastings");
    for (Tasting tasting : run.tastings()) {
      ObjectNode one =
          tastings
              .addObject()
              .put("at", tasting.at().toString())
              .put("taster", tasting.taster())
              .put("note", tasting.note());
      ObjectNode scores = one.putObject("scores");
      new TreeMap<>(tasting.scores()).forEach((item, points) -> scores.put(item.word(), points));
    }
    ArrayNode estimates = json.putArray("own_estimates");
    new TreeMap<>(run.estimates())
        .forEach(
            (pour, poured) ->
                estimates.addObject().put("pour", pour).put("poured_g", grams(poured)));
    ArrayNode seenDry = json.putArray("seen_dry_s");
    run.seenDry().forEach(at -> seenDry.add(seconds(at.since(SessionTime.ZERO))));
    return MAPPER.writerWithDefaultPrettyPrinter().writeValueAsBytes(json);
  }

  private static BigDecimal seconds(Duration span) {
    return plain(BigDecimal.valueOf(span.toNanos(), BILLIONTHS));
  }

  private static BigDecimal grams(Mass mass) {
    return plain(BigDecimal.valueOf(mass.nanograms(), BILLIONTHS));
  }

  private static BigDecimal plain(BigDecimal number) {
    BigDecimal bare = number.stripTrailingZeros();
    return bare.scale() < 0 ? bare.setScale(0, RoundingMode.UNNECESSARY) : bare;
  }

  /**
   * What stood in the file.
   *
   * @param key of the rehearsal
   */
  record Read(String key, int lane, int fadedRun, KeptRun run) {}

  /**
   * Reads it back.
   *
   * @param name of the file, for messages
   * @param plan what stood beside it
   */
  static Read read(byte[] text, String name, Optional<RunStart.WrittenPlan> plan)
      throws RefusedImport {
    try {
      JsonNode json = MAPPER.readTree(text);
      if (json.path("format").asInt() != FORMAT) {
        throw new RefusedImport(
            name + ": is of a format this program does not know; take a newer version");
      }
      int lane = Math.max(1, json.path("lane").asInt(1));
      RunEntry entry = entry(json, plan);
      return new Read(
          text(json, "rehearsal"),
          lane,
          Math.max(0, json.path("faded_runs_before").asInt()),
          new KeptRun(
              entry,
              json.path("program").asText(""),
              plan,
              scales(json, lane),
              Optional.empty(),
              strengths(json),
              tastings(json),
              estimates(json),
              seenDry(json)));
    } catch (JsonProcessingException broken) {
      throw new RefusedImport(name + ": is not readable as JSON", broken);
    } catch (IOException broken) {
      throw new RefusedImport(name + ": cannot be read (" + broken.getMessage() + ")", broken);
    } catch (DateTimeParseException | IllegalArgumentException | ArithmeticException wrong) {
      throw new RefusedImport(name + ": " + wrong.getMessage(), wrong);
    }
  }

  private static RunEntry entry(JsonNode json, Optional<RunStart.WrittenPlan> plan) {
    return new RunEntry(
        0,
        Instant.parse(text(json, "recorded_at")),
        json.path("brewer").asText(""),
        plan.map(written -> written.plan().title()),
        Rig.findByWord(json.path("rig").asText()).orElseThrow(() -> wrong("rig")),
        Feedback.findByWord(json.path("feedback").asText()).orElseThrow(() -> wrong("feedback")),
        json.path("simulated").asBoolean(),
        json.path("void").asBoolean(),
        false,
        RunEntry.State.findByWord(json.path("ended").asText()).orElseThrow(() -> wrong("ended")),
        Duration.ofNanos(billionths(json.path("length_s"))),
        0,
        OptionalInt.empty(),
        OptionalInt.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        false,
        json.path("note").asText(""));
  }

  private static List<RunStart.HeardScale> scales(JsonNode json, int lane) {
    List<RunStart.HeardScale> scales = new ArrayList<>();
    for (JsonNode one : json.path("scales")) {
      Place place = Place.findByWord(text(one, "place")).orElseThrow(() -> wrong("place"));
      scales.add(
          new RunStart.HeardScale(
              new Stand(lane, place),
              one.path("address").asText(""),
              text(one, "profile"),
              findDouble(one, "lag_s"),
              findDouble(one, "noise_g")));
    }
    return scales;
  }

  private static OptionalDouble findDouble(JsonNode json, String name) {
    return json.has(name) ? OptionalDouble.of(json.path(name).asDouble()) : OptionalDouble.empty();
  }

  private static List<StrengthReading> strengths(JsonNode json) {
    List<StrengthReading> strengths = new ArrayList<>();
    for (JsonNode one : json.path("strengths")) {
      strengths.add(
          new StrengthReading(
              0,
              Instant.parse(text(one, "at")),
              one.path("percent").asDouble(),
              findDouble(one, "uncertainty_percent"),
              one.path("instrument").asText("")));
    }
    return strengths;
  }

  private static List<Tasting> tastings(JsonNode json) {
    List<Tasting> tastings = new ArrayList<>();
    for (JsonNode one : json.path("tastings")) {
      Map<TasteItem, Double> scores = new EnumMap<>(TasteItem.class);
      one.path("scores")
          .properties()
          .forEach(
              score ->
                  scores.put(
                      TasteItem.findByWord(score.getKey()).orElseThrow(() -> wrong("scores")),
                      score.getValue().asDouble()));
      tastings.add(
          new Tasting(
              0,
              Instant.parse(text(one, "at")),
              one.path("taster").asText(""),
              scores,
              one.path("note").asText("")));
    }
    return tastings;
  }

  /** None in what an earlier version of this program wrote. */
  private static List<SessionTime> seenDry(JsonNode json) {
    List<SessionTime> seenDry = new ArrayList<>();
    for (JsonNode one : json.path("seen_dry_s")) {
      seenDry.add(SessionTime.ofNanos(billionths(one)));
    }
    return seenDry;
  }

  private static Map<Integer, Mass> estimates(JsonNode json) {
    Map<Integer, Mass> estimates = new LinkedHashMap<>();
    for (JsonNode one : json.path("own_estimates")) {
      estimates.put(one.path("pour").asInt(), Mass.ofNanograms(billionths(one.path("poured_g"))));
    }
    return estimates;
  }

  private static long billionths(JsonNode number) {
    return number
        .decimalValue()
        .movePointRight(BILLIONTHS)
        .setScale(0, RoundingMode.HALF_EVEN)
        .longValueExact();
  }

  private static String text(JsonNode json, String name) {
    String text = json.path(name).asText("");
    if (text.isEmpty()) {
      throw new IllegalArgumentException(name + " is missing");
    }
    return text;
  }

  private static IllegalArgumentException wrong(String name) {
    return new IllegalArgumentException(name + " is missing or holds an unknown word");
  }
}
