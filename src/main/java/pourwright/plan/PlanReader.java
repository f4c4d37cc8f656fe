package pourwright.plan;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;
import pourwright.plan.Fields.Limits;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.MassUnit;
import pourwright.units.SessionTime;

/**
 * Reads plan files, and tells everything that is wrong with one at once.
 *
 * <p>The file is YAML with the keys {@code format} (1), {@code title}, {@code dose_g}, {@code
 * water_g}, {@code water_temp_c}, {@code target_strength_pct}, {@code rig}, {@code dripper_g},
 * {@code server_g}, {@code tolerance}, {@code pours} and {@code talk}. Required are {@code format},
 * {@code dose_g}, {@code water_g} and {@code pours}; a plan without a title goes by the name of its
 * file, one without a rig is for the whole rig, one without tolerances has the common ones.
 */
public final class PlanReader {
  private static final List<String> PLAN_KEYS =
      List.of(
          "format",
          "title",
          "dose_g",
          "water_g",
          "water_temp_c",
          "target_strength_pct",
          "rig",
          "dripper_g",
          "server_g",
          "tolerance",
          "pours",
          "talk");
  private static final List<String> TOLERANCE_KEYS = List.of("mass_g", "start_s", "flow_g_per_s");
  private static final List<String> POUR_KEYS = List.of("add_g", "flow_g_per_s", "start");
  private static final List<String> START_KEYS = List.of("at_s", "after_end_s", "when");
  private static final List<String> TALK_KEYS = List.of("at_s", "say");

  private static final String TOLERANCE_EXAMPLE = "{mass_g: 2.0, start_s: 2.0, flow_g_per_s: 1.0}";
  private static final String POUR_EXAMPLE = "{add_g: 42, flow_g_per_s: 5.0, start: {at_s: 0}}";
  private static final String START_EXAMPLE =
      "{at_s: 48}, {after_end_s: 30} or {when: drained, at_s: 48}";
  private static final String TALK_EXAMPLE = "{at_s: 20, say: \"where the lot comes from\"}";

  private static final Limits MASS = Limits.above("0", "10000", "g");
  private static final Limits TEMPERATURE = Limits.above("0", "100", "°C");
  private static final Limits STRENGTH = Limits.above("0", "100", "%");
  private static final Limits FLOW = Limits.above("0", "100", "g/s");
  private static final Limits MOMENT = Limits.from("0", "36000", "s");
  private static final Limits SPAN = Limits.above("0", "36000", "s");

  private final Problems problems;

  private PlanReader(Problems problems) {
    this.problems = problems;
  }

  /**
   * Reads one plan.
   *
   * @param text all of the file
   * @param fileName as it should stand in complaints
   */
  public static PlanReading read(String text, String fileName) {
    Problems problems = new Problems(fileName);
    Optional<Plan> plan =
        PlanSource.findDocument(text, problems)
            .flatMap(document -> new PlanReader(problems).plan(document, fileName));
    return plan.isPresent() && !problems.hasErrors()
        ? new PlanReading.Understood(plan.get(), problems.list())
        : new PlanReading.Refused(problems.list());
  }

  private Optional<Plan> plan(Node document, String fileName) {
    if (!(document instanceof MappingNode map)) {
      problems.error(document, "this is no plan", "a plan begins with 'format: 1'");
      return Optional.empty();
    }
    Fields fields = new Fields(map, "the plan", problems, PLAN_KEYS);
    format(fields);
    fields.require("dose_g", "the dry coffee, for example dose_g: 16.5");
    fields.require("water_g", "all water of all pours, for example water_g: 264");
    fields.require("pours", "at least one line like '- " + POUR_EXAMPLE + "'");
    String title = fields.text("title").orElseGet(() -> bareName(fileName));
    Optional<Mass> dose = mass(fields, "dose_g");
    Optional<Mass> water = mass(fields, "water_g");
    Optional<BigDecimal> temperature = fields.number("water_temp_c", TEMPERATURE);
    Optional<BigDecimal> strength = fields.number("target_strength_pct", STRENGTH);
    Optional<Mass> dripper = mass(fields, "dripper_g");
    Optional<Mass> server = mass(fields, "server_g");
    Rig rig = rig(fields);
    Tolerance tolerance = tolerance(fields);
    PlacedPours pours = pours(fields);
    List<TalkMark> talk = talk(fields, pours);

    PlanCheck check = new PlanCheck(problems);
    water.ifPresent(all -> check.water(fields.placeOf("water_g"), all, pours));
    check.pours(pours);
    check.oddities(fields, dose, water, temperature, strength);
    if (dose.isEmpty() || water.isEmpty() || pours.pours().isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(
        new Plan(
            title,
            dose.get(),
            water.get(),
            asDouble(temperature),
            asDouble(strength),
            rig,
            dripper,
            server,
            tolerance,
            pours.pours(),
            talk));
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

  private Rig rig(Fields fields) {
    Optional<String> word = fields.text("rig");
    Optional<Rig> rig = word.flatMap(Rig::findByWord);
    if (word.isPresent() && rig.isEmpty()) {
      problems.error(
          fields.placeOf("rig"),
          "there is no rig '" + Fields.shorten(word.get()) + "'",
          "write whole, server or split");
    }
    return rig.orElse(Rig.WHOLE);
  }

  private Tolerance tolerance(Fields fields) {
    Tolerance common = Tolerance.COMMON;
    return fields
        .mapping("tolerance", "'tolerance'", TOLERANCE_KEYS, TOLERANCE_EXAMPLE)
        .map(
            inner ->
                new Tolerance(
                    mass(inner, "mass_g").orElse(common.mass()),
                    inner
                        .number("start_s", SPAN)
                        .map(seconds -> Duration.ofNanos(billionths(seconds)))
                        .orElse(common.start()),
                    flow(inner).orElse(common.flow())))
        .orElse(common);
  }

  /** Pours with the places they were read from; complete only when every one could be read. */
  record PlacedPours(List<PlannedPour> pours, List<Fields> places, boolean complete) {}

  private PlacedPours pours(Fields fields) {
    List<Node> items = fields.list("pours", POUR_EXAMPLE);
    List<PlannedPour> pours = new ArrayList<>();
    List<Fields> places = new ArrayList<>();
    int index = 0;
    for (Node item : items) {
      index++;
      String name = "pour " + index;
      if (!(item instanceof MappingNode map)) {
        problems.error(item, name + " is not a set of keys", "write '- " + POUR_EXAMPLE + "'");
        continue;
      }
      Fields pour = new Fields(map, name, problems, POUR_KEYS);
      places.add(pour);
      pour.require("add_g", "its water, for example add_g: 42");
      pour.require("flow_g_per_s", "its flow, for example flow_g_per_s: 5.0");
      pour.require("start", "when it starts: " + START_EXAMPLE);
      Optional<Mass> add = mass(pour, "add_g");
      Optional<Flow> flow = flow(pour);
      Optional<Start> start = start(pour, index);
      if (add.isPresent() && flow.isPresent() && start.isPresent()) {
        pours.add(new PlannedPour(index, add.get(), flow.get(), start.get()));
      }
    }
    if (fields.has("pours") && items.isEmpty() && !problems.hasErrors()) {
      problems.error(
          fields.placeOf("pours"),
          "the plan has no pour",
          "write lines like '- " + POUR_EXAMPLE + "'");
    }
    return new PlacedPours(pours, places, !pours.isEmpty() && pours.size() == items.size());
  }

  private Optional<Start> start(Fields pour, int index) {
    Optional<Fields> found =
        pour.mapping("start", "'start' of pour " + index, START_KEYS, START_EXAMPLE);
    if (found.isEmpty()) {
      return Optional.empty();
    }
    Fields start = found.get();
    Optional<SessionTime> at = moment(start);
    Optional<Duration> gap =
        start.number("after_end_s", MOMENT).map(seconds -> Duration.ofNanos(billionths(seconds)));
    Optional<String> when = start.text("when");
    if (when.isPresent() && !when.get().equals("drained")) {
      problems.error(
          start.placeOf("when"),
          "a pour cannot wait for '" + Fields.shorten(when.get()) + "'",
          "write drained");
      return Optional.empty();
    }
    if (start.has("after_end_s") && (start.has("at_s") || start.has("when"))) {
      problems.error(
          start.node(), "pour " + index + " has two starts", "keep one of " + START_EXAMPLE);
      return Optional.empty();
    }
    if (start.has("when") && !start.has("at_s")) {
      problems.error(
          start.node(),
          "pour " + index + " waits for the bed but has no expected time",
          "add at_s, as in {when: drained, at_s: 48}");
      return Optional.empty();
    }
    if (!start.has("at_s") && !start.has("after_end_s")) {
      problems.error(start.node(), "pour " + index + " has no start", "write " + START_EXAMPLE);
      return Optional.empty();
    }
    if (gap.isPresent()) {
      return gap.map(Start.AfterEnd::new);
    }
    return when.isPresent() ? at.map(Start.WhenDrained::new) : at.map(Start.AtClock::new);
  }

  private List<TalkMark> talk(Fields fields, PlacedPours pours) {
    List<TalkMark> marks = new ArrayList<>();
    PlanCheck check = new PlanCheck(problems);
    for (Node item : fields.list("talk", TALK_EXAMPLE)) {
      if (!(item instanceof MappingNode map)) {
        problems.error(
            item, "this talk mark is not a set of keys", "write '- " + TALK_EXAMPLE + "'");
        continue;
      }
      Fields mark = new Fields(map, "this talk mark", problems, TALK_KEYS);
      mark.require("at_s", "its time, for example at_s: 20");
      mark.require("say", "what to say, for example say: \"where the lot comes from\"");
      Optional<SessionTime> at = moment(mark);
      Optional<String> say = mark.text("say");
      if (at.isPresent() && say.isPresent()) {
        TalkMark next = new TalkMark(at.get(), say.get());
        check.talk(mark.placeOf("at_s"), marks, next, pours);
        marks.add(next);
      }
    }
    return marks;
  }

  private static String bareName(String fileName) {
    String last =
        fileName.substring(Math.max(fileName.lastIndexOf('/'), fileName.lastIndexOf('\\')) + 1);
    return last.replaceFirst("\\.ya?ml$", "");
  }

  private static Optional<Mass> mass(Fields fields, String key) {
    return fields.number(key, MASS).map(grams -> Mass.of(grams, MassUnit.GRAM));
  }

  private static Optional<Flow> flow(Fields fields) {
    return fields.number("flow_g_per_s", FLOW).map(flow -> new Flow(billionths(flow)));
  }

  private static Optional<SessionTime> moment(Fields fields) {
    return fields.number("at_s", MOMENT).map(seconds -> new SessionTime(billionths(seconds)));
  }

  /** The number in billionths (grams to nanograms, seconds to nanoseconds), half to even. */
  private static long billionths(BigDecimal number) {
    return number.movePointRight(9).setScale(0, RoundingMode.HALF_EVEN).longValueExact();
  }

  private static OptionalDouble asDouble(Optional<BigDecimal> number) {
    return number.isPresent()
        ? OptionalDouble.of(number.get().doubleValue())
        : OptionalDouble.empty();
  }
}
