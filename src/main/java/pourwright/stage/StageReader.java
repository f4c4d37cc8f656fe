package pourwright.stage;

import java.math.BigDecimal;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;
import org.snakeyaml.engine.v2.nodes.ScalarNode;
import pourwright.plan.Fields;
import pourwright.plan.Fields.Limits;
import pourwright.plan.Plan;
import pourwright.plan.PlanSource;
import pourwright.plan.Problems;
import pourwright.plan.Schedule;
import pourwright.plan.Start;
import pourwright.units.Mass;

/**
 * Reads routine files and event files, and tells everything that is wrong with one at once.
 *
 * <p>A routine is YAML with the keys {@code format} (1), {@code title}, {@code event}, {@code
 * limit_s}, {@code reserve_s}, {@code brewers}, {@code hands}, {@code kettle}, {@code talk}, {@code
 * patience_s}, {@code served_within_s}, {@code left_to_right} and {@code spreads}; only {@code
 * format} and {@code brewers} are required. An event file has {@code format} (1), {@code name},
 * {@code limit_s}, {@code cups}, {@code least_ml} and {@code serving_c}.
 */
public final class StageReader {
  private static final List<String> ROUTINE_KEYS =
      List.of(
          "format",
          "title",
          "event",
          "limit_s",
          "reserve_s",
          "brewers",
          "hands",
          "kettle",
          "talk",
          "patience_s",
          "served_within_s",
          "left_to_right",
          "spreads");
  private static final List<String> BREWER_KEYS = List.of("name", "plan", "drain_s");
  private static final List<String> HAND_KEYS =
      List.of(
          "rinse_s", "dose_s", "swirl_s", "lift_s", "serve_s", "clean_s", "travel_s", "scale_s");
  private static final List<String> KETTLE_KEYS =
      List.of("full_g", "keep_g", "refill_s", "reheat_s");
  private static final List<String> TALK_KEYS = List.of("say", "from_s", "until_s", "length_s");
  private static final List<String> SPREAD_KEYS =
      List.of("pour_g", "start_s", "flow_pct", "drain_pct", "chore_pct");
  private static final List<String> EVENT_KEYS =
      List.of("format", "name", "limit_s", "cups", "least_ml", "serving_c");

  private static final String BREWER_EXAMPLE = "{name: left, plan: my-plan.yaml}";
  private static final String TALK_EXAMPLE =
      "{say: \"where the lot comes from\", from_s: 60, until_s: 90, length_s: 15}";

  private static final Limits CHORE = Limits.from("0", "600", "s");
  private static final Limits MOMENT = Limits.from("0", "7200", "s");
  private static final Limits LENGTH = Limits.from("1", "600", "s");
  private static final Limits SPREAD = Limits.from("0", "100", "");
  private static final Limits WATER = Limits.from("0", "10000", "g");

  /** Bed without a word on it drains this long; common practice, no source. */
  private static final int COMMON_DRAIN_SECONDS = 35;

  private static final int COMMON_RESERVE_SECONDS = 20;
  private static final int COMMON_PATIENCE_SECONDS = 20;

  private final Problems problems;

  private StageReader(Problems problems) {
    this.problems = problems;
  }

  /**
   * Reads one routine.
   *
   * @param text all of the file
   * @param fileName as it should stand in complaints
   * @param plans gives the plan of a file name that stands in the routine, if it is a good one
   * @param events gives the event of such a file name
   */
  public static StageReading read(
      String text,
      String fileName,
      Function<String, Optional<Plan>> plans,
      Function<String, Optional<EventRules>> events) {
    Problems problems = new Problems(fileName);
    Optional<StageFile> file =
        PlanSource.findDocument(text, problems)
            .flatMap(document -> new StageReader(problems).routine(document, plans, events));
    return file.isPresent() && !problems.hasErrors()
        ? new StageReading.Understood(file.get(), problems.list())
        : new StageReading.Refused(problems.list());
  }

  /**
   * Reads one event file.
   *
   * @param complaints takes what is wrong with it
   */
  public static Optional<EventRules> readEvent(
      String text, String fileName, Consumer<String> complaints) {
    Problems problems = new Problems(fileName);
    Optional<EventRules> rules =
        PlanSource.findDocument(text, problems)
            .flatMap(document -> new StageReader(problems).event(document));
    problems.list().forEach(problem -> complaints.accept(problem.toString()));
    return problems.hasErrors() ? Optional.empty() : rules;
  }

  private Optional<EventRules> event(Node document) {
    if (!(document instanceof MappingNode map)) {
      problems.error(document, "this is no event file", "an event file begins with 'format: 1'");
      return Optional.empty();
    }
    Fields fields = new Fields(map, "the event", problems, EVENT_KEYS);
    format(fields);
    EventRules common = EventRules.COMMON;
    return Optional.of(
        new EventRules(
            fields.text("name").orElse("own rules"),
            whole(fields, "limit_s", Limits.from("60", "7200", "s"), common.limitSeconds()),
            whole(fields, "cups", Limits.from("1", "24", ""), common.cups()),
            whole(fields, "least_ml", Limits.from("0", "2000", "mL"), common.leastMillilitres()),
            number(fields, "serving_c", Limits.from("0", "100", "°C"), common.servingCelsius())));
  }

  private Optional<StageFile> routine(
      Node document,
      Function<String, Optional<Plan>> plans,
      Function<String, Optional<EventRules>> events) {
    if (!(document instanceof MappingNode map)) {
      problems.error(document, "this is no routine", "a routine begins with 'format: 1'");
      return Optional.empty();
    }
    Fields fields = new Fields(map, "the routine", problems, ROUTINE_KEYS);
    format(fields);
    fields.require("brewers", "1 to 8 lines like '- " + BREWER_EXAMPLE + "'");
    EventRules rules = eventOf(fields, events);
    int limit = whole(fields, "limit_s", Limits.from("10", "7200", "s"), rules.limitSeconds());
    int reserve = whole(fields, "reserve_s", MOMENT, Math.min(COMMON_RESERVE_SECONDS, limit / 10));
    if (reserve >= limit) {
      problems.error(
          fields.placeOf("reserve_s"),
          "the reserve is the whole limit",
          "make 'reserve_s' smaller");
    }
    List<Station> stations = stations(fields, plans);
    HandTimes hands = hands(fields);
    Kettle kettle = kettle(fields);
    List<Speech> speeches = speeches(fields);
    int patience = whole(fields, "patience_s", MOMENT, COMMON_PATIENCE_SECONDS);
    int within = whole(fields, "served_within_s", MOMENT, 0);
    boolean isLeftToRight = isTrue(fields, "left_to_right", true);
    Spreads spreads = spreads(fields);
    if (stations.isEmpty() || problems.hasErrors()) {
      return Optional.empty();
    }
    Routine routine =
        new Routine(
            stations, hands, kettle, speeches, limit, reserve, isLeftToRight, patience, within);
    return Optional.of(
        new StageFile(fields.text("title").orElse("Stage routine"), routine, rules, spreads));
  }

  private EventRules eventOf(Fields fields, Function<String, Optional<EventRules>> events) {
    Optional<String> name = fields.text("event");
    Optional<EventRules> rules = name.flatMap(events);
    if (name.isPresent() && rules.isEmpty()) {
      problems.error(
          fields.placeOf("event"),
          "the event file '" + name.get() + "' cannot be used",
          "name a file beside the routine, or leave 'event' out for common practice");
    }
    return rules.orElse(EventRules.COMMON);
  }

  private void format(Fields fields) {
    fields.require("format", "'format: 1' as the first line");
    Optional<BigDecimal> format = fields.number("format", Limits.from("1", "9999", ""));
    if (format.isPresent() && format.get().compareTo(BigDecimal.ONE) != 0) {
      problems.error(
          fields.placeOf("format"),
          "'format' is " + format.get().toPlainString(),
          "this program reads format 1");
    }
  }

  private List<Station> stations(Fields fields, Function<String, Optional<Plan>> plans) {
    List<Node> nodes = fields.list("brewers", BREWER_EXAMPLE);
    if (fields.has("brewers") && (nodes.isEmpty() || nodes.size() > 8)) {
      problems.error(
          fields.placeOf("brewers"),
          nodes.size() + " brewers stand here",
          "1 to 8 brewers can be planned");
    }
    List<Station> stations = new ArrayList<>();
    for (Node node : nodes) {
      if (!(node instanceof MappingNode map)) {
        problems.error(node, "this is no brewer", "write a line like '- " + BREWER_EXAMPLE + "'");
        continue;
      }
      Fields brewer = new Fields(map, "the brewer", problems, BREWER_KEYS);
      brewer.require("plan", "its plan file, for example plan: my-plan.yaml");
      Optional<String> file = brewer.text("plan");
      Optional<Plan> plan = file.flatMap(plans);
      if (file.isPresent() && plan.isEmpty()) {
        problems.error(
            brewer.placeOf("plan"),
            "the plan '" + file.get() + "' cannot be used",
            "name a plan file beside the routine; `pourwright plan check` tells what is wrong");
      }
      String name = brewer.text("name").orElse("brewer " + (stations.size() + 1));
      plan.ifPresent(pours -> stations.add(new Station(name, pours, drains(brewer, pours))));
    }
    return stations;
  }

  /** As the brewer says, else as the plan expects, else common. */
  private List<Integer> drains(Fields brewer, Plan plan) {
    List<Schedule.Slot> slots = Schedule.of(plan).slots();
    List<Node> told = brewer.list("drain_s", "35");
    List<Integer> drains = new ArrayList<>();
    if (brewer.has("drain_s")) {
      for (Node node : told) {
        drains.add(drain(node));
      }
      if (drains.size() != slots.size()) {
        problems.error(
            brewer.placeOf("drain_s"),
            drains.size() + " drain times for " + slots.size() + " pours",
            "write one for each pour, for example drain_s: [35, 35, 40]");
      }
      return drains.size() == slots.size() ? drains : defaults(slots);
    }
    return defaults(slots);
  }

  private int drain(Node node) {
    String text = node instanceof ScalarNode scalar ? scalar.getValue() : "";
    if (!text.matches("\\d{1,3}") || Integer.parseInt(text) < 1) {
      problems.error(node, "this is no drain time", "write whole seconds from 1 to 999");
      return COMMON_DRAIN_SECONDS;
    }
    return Integer.parseInt(text);
  }

  private static List<Integer> defaults(List<Schedule.Slot> slots) {
    List<Integer> drains = new ArrayList<>();
    int longest = 0;
    for (int i = 0; i < slots.size(); i++) {
      boolean isNextDrained =
          i + 1 < slots.size() && slots.get(i + 1).pour().start() instanceof Start.WhenDrained;
      int drain = longest > 0 ? longest : COMMON_DRAIN_SECONDS;
      if (isNextDrained) {
        Duration wait = slots.get(i + 1).start().since(slots.get(i).end());
        drain = (int) Math.max(1, Math.round(wait.toNanos() / 1e9));
        longest = Math.max(longest, drain);
      }
      drains.add(drain);
    }
    return drains;
  }

  private HandTimes hands(Fields fields) {
    HandTimes common = HandTimes.COMMON;
    return fields
        .mapping("hands", "'hands'", HAND_KEYS, "{rinse_s: 8, travel_s: 2}")
        .map(
            hands ->
                new HandTimes(
                    whole(hands, "rinse_s", CHORE, common.rinse()),
                    whole(hands, "dose_s", CHORE, common.dose()),
                    whole(hands, "swirl_s", CHORE, common.swirl()),
                    whole(hands, "lift_s", Limits.from("1", "600", "s"), common.lift()),
                    whole(hands, "serve_s", CHORE, common.serve()),
                    whole(hands, "clean_s", CHORE, common.clean()),
                    whole(hands, "travel_s", CHORE, common.travel()),
                    whole(hands, "scale_s", CHORE, common.scale())))
        .orElse(common);
  }

  private Kettle kettle(Fields fields) {
    Kettle common = Kettle.COMMON;
    Optional<Fields> told =
        fields.mapping("kettle", "'kettle'", KETTLE_KEYS, "{full_g: 900, keep_g: 80}");
    if (told.isEmpty()) {
      return common;
    }
    Fields kettle = told.get();
    Mass full = Mass.ofGrams(number(kettle, "full_g", WATER, common.full().grams()));
    Mass keep = Mass.ofGrams(number(kettle, "keep_g", WATER, common.keep().grams()));
    if (full.compareTo(keep) <= 0) {
      problems.error(
          kettle.node(),
          "a kettle of " + full + " of which " + keep + " stays gives no water",
          "make 'full_g' larger than 'keep_g'");
      return common;
    }
    return new Kettle(
        full,
        keep,
        whole(kettle, "refill_s", CHORE, common.refillSeconds()),
        whole(kettle, "reheat_s", CHORE, common.reheatSeconds()));
  }

  private List<Speech> speeches(Fields fields) {
    List<Speech> speeches = new ArrayList<>();
    for (Node node : fields.list("talk", TALK_EXAMPLE)) {
      if (!(node instanceof MappingNode map)) {
        problems.error(
            node, "this is nothing to say", "write a line like '- " + TALK_EXAMPLE + "'");
        continue;
      }
      Fields talk = new Fields(map, "the talk", problems, TALK_KEYS);
      talk.require("say", "what it is about");
      talk.require("from_s", "when it may begin, for example from_s: 60");
      int from = whole(talk, "from_s", MOMENT, 0);
      int until = whole(talk, "until_s", MOMENT, from + 30);
      int length = whole(talk, "length_s", LENGTH, 10);
      if (until < from) {
        problems.error(
            talk.placeOf("until_s"), "it would have to begin before it may", "'until_s' is later");
      } else {
        talk.text("say").ifPresent(say -> speeches.add(new Speech(say, from, until, length)));
      }
    }
    return speeches;
  }

  private Spreads spreads(Fields fields) {
    Spreads common = Spreads.PRACTISED;
    return fields
        .mapping("spreads", "'spreads'", SPREAD_KEYS, "{pour_g: 1.0, start_s: 0.7}")
        .map(
            spreads ->
                new Spreads(
                    number(spreads, "pour_g", SPREAD, common.pourGrams()),
                    number(spreads, "start_s", SPREAD, common.startSeconds()),
                    number(spreads, "flow_pct", SPREAD, common.flowPercent()),
                    number(spreads, "drain_pct", SPREAD, common.drainPercent()),
                    number(spreads, "chore_pct", SPREAD, common.chorePercent())))
        .orElse(common);
  }

  private boolean isTrue(Fields fields, String key, boolean usual) {
    Optional<String> word = fields.text(key);
    if (word.isEmpty()) {
      return usual;
    }
    if (!word.get().equals("true") && !word.get().equals("false")) {
      problems.error(
          fields.placeOf(key), "'" + key + "' is '" + word.get() + "'", "write true or false");
    }
    return word.get().equals("true");
  }

  /** Seconds and counts are planned whole; a part of one is complained about. */
  private int whole(Fields fields, String key, Limits limits, int usual) {
    Optional<BigDecimal> number = fields.number(key, limits);
    if (number.isEmpty()) {
      return usual;
    }
    if (number.get().stripTrailingZeros().scale() > 0) {
      problems.error(
          fields.placeOf(key),
          "'" + key + "' is " + number.get().toPlainString(),
          "write a whole number");
      return usual;
    }
    return number.get().intValueExact();
  }

  private static double number(Fields fields, String key, Limits limits, double usual) {
    return fields.number(key, limits).map(BigDecimal::doubleValue).orElse(usual);
  }
}
