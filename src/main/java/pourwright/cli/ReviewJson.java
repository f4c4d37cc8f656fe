package pourwright.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.compare.Comparison.Kind;
import pourwright.journal.RunEntry;
import pourwright.report.Phrases;
import pourwright.review.Cost;
import pourwright.review.CupReview;
import pourwright.review.Difference;
import pourwright.review.Extraction;
import pourwright.review.FeedbackReview;
import pourwright.review.Habit;
import pourwright.review.PlanReview;
import pourwright.review.PourReview;
import pourwright.review.Readiness;
import pourwright.review.Run;
import pourwright.review.Series;
import pourwright.statistic.Interval;
import pourwright.statistic.Proportion;
import pourwright.statistic.Welch;

/**
 * Reviews as JSON: what is not known is {@code null}, intervals hold with 95 % confidence, shares
 * and chances go from 0 to 1, errors are made minus planned.
 */
final class ReviewJson {
  private static final int FORMAT = 1;
  private static final int DECIMALS = 4;
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private ReviewJson() {}

  static ObjectNode document() {
    return JSON.objectNode().put("format", FORMAT);
  }

  static ObjectNode entry(RunEntry entry) {
    ObjectNode node = JSON.objectNode();
    node.put("run", entry.id());
    node.put("at", entry.startedAt().toString());
    node.put("plan", entry.title().orElse(null));
    node.put("brewer", entry.brewer());
    node.put("feedback", entry.feedback().word());
    node.put("simulated", entry.isSimulated());
    node.put("void", entry.isVoid());
    node.put("ended", entry.state().word());
    node.put("pours", entry.pours());
    node.put("planned", entry.planned().isPresent() ? entry.planned().getAsInt() : null);
    node.put("inside", entry.inside().isPresent() ? entry.inside().getAsInt() : null);
    put(node, "deviation_index", entry.deviationIndex());
    put(node, "strength_pct", entry.strengthPercent());
    node.put("tasted", entry.isTasted());
    node.put("note", entry.note());
    return node;
  }

  static ObjectNode review(PlanReview review) {
    ObjectNode node = JSON.objectNode();
    node.put("plan", review.plan().title());
    node.put("simulated", review.isSimulated());
    ArrayNode runs = node.putArray("runs");
    review.runs().forEach(run -> runs.add(run.id()));
    node.put("from", review.runs().get(0).at().toString());
    node.put("until", review.last().at().toString());
    node.set("lesson", lesson(review));
    node.set("deviation_index", series(review.index()));
    ArrayNode pours = node.putArray("pours");
    review.pours().forEach(pour -> pours.add(pour(pour)));
    ArrayNode costs = node.putArray("costs");
    review.costs().forEach(cost -> costs.add(cost(cost)));
    node.set("readiness", readiness(review.readiness()));
    node.set("feedback", feedback(review.feedback()));
    node.set("cup", cup(review.cup()));
    return node;
  }

  private static ObjectNode lesson(PlanReview review) {
    ObjectNode node = JSON.objectNode();
    node.put("sentence", review.lesson().map(lesson -> lesson.sentence()).orElse(null));
    node.put("evidence", review.lesson().map(lesson -> lesson.evidence()).orElse(null));
    return node;
  }

  private static ObjectNode series(Series series) {
    ObjectNode node = JSON.objectNode();
    node.put("runs", series.size());
    put(node, "mean", series.mean());
    interval(node, "mean", series.meanInterval());
    put(node, "scatter", series.spread());
    interval(node, "scatter", series.spreadInterval());
    Optional<Series.Direction> direction = series.direction();
    if (direction.isPresent()) {
      ObjectNode trend = node.putObject("trend");
      put(trend, "slope_per_run", direction.get().line().slope());
      interval(trend, "slope", Optional.of(direction.get().line().slopeInterval()));
      trend.put("s", direction.get().order().s());
      put(trend, "p", direction.get().order().p());
      trend.put("clear", direction.get().isClear());
    } else {
      node.putNull("trend");
    }
    ArrayNode outliers = node.putArray("outliers");
    series.outliers().forEach(outliers::add);
    return node;
  }

  private static ObjectNode pour(PourReview pour) {
    ObjectNode node = JSON.objectNode();
    node.put("pour", pour.pour());
    node.set("inside", share(pour.inside()));
    node.put("missed", pour.missed());
    ArrayNode habits = node.putArray("errors");
    pour.habits().forEach(habit -> habits.add(habit(habit)));
    return node;
  }

  private static ObjectNode habit(Habit habit) {
    ObjectNode node = JSON.objectNode();
    node.put("of", word(habit.kind()));
    node.put("unit", pourwright.review.Lesson.unit(habit.kind()));
    put(node, "tolerance", habit.tolerance());
    node.setAll(series(habit.errors()));
    put(node, "bias_share", habit.biasShare());
    node.set("within", habit.within().map(ReviewJson::share).orElse(null));
    habit
        .capability()
        .ifPresentOrElse(
            fit -> {
              ObjectNode capability = node.putObject("capability");
              put(capability, "cp", fit.cp());
              put(capability, "cpk", fit.cpk());
              put(capability, "cpm", fit.cpm());
            },
            () -> node.putNull("capability"));
    return node;
  }

  private static ObjectNode cost(Cost cost) {
    ObjectNode node = JSON.objectNode();
    node.put("cause", cost.cause().name().toLowerCase(Locale.ROOT));
    node.put("pour", cost.pour().isPresent() ? cost.pour().getAsInt() : null);
    put(node, "part", cost.part());
    node.put("say", Phrases.cost(cost));
    return node;
  }

  private static ObjectNode readiness(Readiness readiness) {
    ObjectNode node = JSON.objectNode();
    node.set("clean", share(readiness.clean()));
    if (readiness.coming().isPresent()) {
      ObjectNode coming = node.putObject("next_run");
      put(coming, "chance", readiness.coming().get().chance());
      put(coming, "low", readiness.coming().get().interval().low());
      put(coming, "high", readiness.coming().get().interval().high());
    } else {
      node.putNull("next_run");
    }
    node.put("clean_in_a_row", readiness.streak());
    put(node, "shown", readiness.shown());
    put(node, "claim", Readiness.CLAIM);
    node.put("needed_in_a_row", Readiness.runsNeeded(Readiness.CLAIM, Series.CONFIDENCE));
    node.put("ready", readiness.isShown());
    node.put("weakest_pour", readiness.weakest().map(PourReview::pour).orElse(null));
    ArrayNode say = node.putArray("say");
    say.add(readiness.sentence());
    say.add(Phrases.coming(readiness));
    say.add(Phrases.weakest(readiness));
    return node;
  }

  private static ObjectNode feedback(FeedbackReview feedback) {
    ObjectNode node = JSON.objectNode();
    ArrayNode kinds = node.putArray("kinds");
    for (FeedbackReview.Kind kind : feedback.kinds()) {
      ObjectNode each = kinds.addObject();
      each.put("feedback", kind.feedback().word());
      each.put("say", Phrases.feedback(kind.feedback()));
      each.setAll(series(kind.index()));
    }
    node.set("blind_less_guided", series(feedback.retention()));
    node.set("guesses", series(feedback.guesses()));
    ArrayNode say = node.putArray("say");
    say.add(Phrases.retention(feedback.retention()));
    say.add(Phrases.guesses(feedback.guesses()));
    return node;
  }

  static ObjectNode extraction(Extraction extraction) {
    ObjectNode node = JSON.objectNode();
    put(node, "strength_pct", extraction.strengthPercent());
    put(node, "strength_u", extraction.strengthUncertainty());
    put(node, "extraction_pct", extraction.percent());
    put(
        node,
        "extraction_u",
        extraction.percent().isPresent()
            ? OptionalDouble.of(extraction.uncertainty())
            : OptionalDouble.empty());
    node.put("place", extraction.place().map(Extraction.Place::words).orElse(null));
    node.put("close_call", extraction.isCloseCall());
    return node;
  }

  private static ObjectNode cup(CupReview cup) {
    ObjectNode node = JSON.objectNode();
    ArrayNode cups = node.putArray("cups");
    for (CupReview.Cup each : cup.cups()) {
      ObjectNode one = extraction(each.extraction());
      one.put("run", each.run());
      cups.add(one);
    }
    ArrayNode scores = node.putArray("scores");
    for (CupReview.Score score : cup.scores()) {
      ObjectNode one = series(score.series());
      one.put("item", score.item());
      scores.add(one);
    }
    ArrayNode links = node.putArray("links");
    for (CupReview.Link link : cup.links()) {
      ObjectNode one = links.addObject();
      one.put("cup", link.cup());
      one.put("pours", link.pours());
      one.put("runs", link.runs());
      put(
          one,
          "slope",
          link.line().map(line -> OptionalDouble.of(line.slope())).orElse(OptionalDouble.empty()));
      interval(one, "slope", link.line().map(line -> line.slopeInterval(Series.CONFIDENCE)));
      put(one, "p", link.adjustedP());
      one.put("clear", link.isClear());
      one.put("say", link.sentence());
    }
    ArrayNode say = node.putArray("say");
    Phrases.links(cup).forEach(say::add);
    return node;
  }

  /** Two groups; the names are those of the first and the second. */
  static ObjectNode difference(Difference difference, String first, String second) {
    ObjectNode node = JSON.objectNode();
    node.put("first", first);
    node.put("second", second);
    node.put("first_runs", difference.first().size());
    node.put("second_runs", difference.second().size());
    ArrayNode lines = node.putArray("lines");
    for (Difference.Line line : difference.lines()) {
      ObjectNode one = lines.addObject();
      one.put("what", line.what());
      one.put("unit", line.unit());
      one.set("welch", line.test().map(ReviewJson::welch).orElse(null));
      put(one, "adjusted_p", line.adjustedP());
      one.put("clear", line.isClear());
      one.put("say", Phrases.difference(line, first, second));
    }
    return node;
  }

  /** What became of each pour of a run. */
  static ArrayNode judged(Run run) {
    ArrayNode pours = JSON.arrayNode();
    run.comparison()
        .pours()
        .forEach(
            pour -> {
              ObjectNode node = pours.addObject();
              node.put("planned", pour.planned().isPresent() ? pour.planned().getAsInt() : null);
              node.put("verdict", pour.verdict().word());
              put(node, "mass_error_g", pour.massError().grams());
              put(
                  node,
                  "start_error_s",
                  pour.placing()
                      .map(placing -> OptionalDouble.of(placing.startError().toNanos() / 1e9))
                      .orElse(OptionalDouble.empty()));
              put(
                  node,
                  "flow_error_g_per_s",
                  pour.placing()
                      .map(placing -> OptionalDouble.of(placing.flowError().gramsPerSecond()))
                      .orElse(OptionalDouble.empty()));
              ArrayNode reasons = node.putArray("reasons");
              pour.reasons().forEach(reasons::add);
            });
    return pours;
  }

  private static ObjectNode welch(Welch test) {
    ObjectNode node = JSON.objectNode();
    put(node, "difference", test.difference());
    interval(node, "difference", Optional.of(test.interval(Series.CONFIDENCE)));
    put(node, "t", test.t());
    put(node, "freedom", test.freedom());
    put(node, "p", test.p());
    return node;
  }

  private static ObjectNode share(Proportion share) {
    ObjectNode node = JSON.objectNode();
    node.put("successes", share.successes());
    node.put("of", share.trials());
    put(node, "share", share.share());
    Interval interval = share.clopperPearson(Series.CONFIDENCE);
    put(node, "low", interval.low());
    put(node, "high", interval.high());
    return node;
  }

  private static void interval(ObjectNode node, String name, Optional<Interval> interval) {
    put(node, name + "_low", end(interval.map(Interval::low)));
    put(node, name + "_high", end(interval.map(Interval::high)));
  }

  private static OptionalDouble end(Optional<Double> value) {
    return value.isPresent() ? OptionalDouble.of(value.get()) : OptionalDouble.empty();
  }

  private static void put(ObjectNode node, String name, OptionalDouble value) {
    if (value.isPresent()) {
      put(node, name, value.getAsDouble());
    } else {
      node.putNull(name);
    }
  }

  /** Rounded; infinite where too few values say anything, which JSON writes as null. */
  private static void put(ObjectNode node, String name, double value) {
    if (Double.isFinite(value)) {
      node.put(name, BigDecimal.valueOf(value).setScale(DECIMALS, RoundingMode.HALF_EVEN));
    } else {
      node.putNull(name);
    }
  }

  private static String word(Kind kind) {
    return kind.name().toLowerCase(Locale.ROOT);
  }

  static ArrayNode array(List<ObjectNode> nodes) {
    ArrayNode array = JSON.arrayNode();
    nodes.forEach(array::add);
    return array;
  }
}
