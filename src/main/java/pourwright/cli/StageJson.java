package pourwright.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Locale;
import pourwright.stage.Chore;
import pourwright.stage.EventRules;
import pourwright.stage.Job;
import pourwright.stage.Odds;
import pourwright.stage.Outcome;
import pourwright.stage.Routine;
import pourwright.stage.Station;
import pourwright.stage.Timetable;
import pourwright.stage.Totals;
import pourwright.statistic.Interval;
import pourwright.statistic.Proportion;

/** A stage plan as JSON; times in whole seconds of the stage clock. */
final class StageJson {
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;
  private static final double CONFIDENCE = 0.95;

  private StageJson() {}

  static ObjectNode of(Staged staged) {
    Routine routine = staged.file().routine();
    ObjectNode node = JSON.objectNode();
    node.put("format", 1);
    node.put("title", staged.file().title());
    node.put("verdict", verdict(staged.outcome()));
    node.put("says", StageText.verdict(staged));
    node.put("limit_s", routine.limitSeconds());
    node.put("reserve_s", routine.reserveSeconds());
    node.put("drains_from", staged.drainsFrom());
    ArrayNode brewers = node.putArray("brewers");
    for (Station station : routine.stations()) {
      ObjectNode brewer = brewers.addObject();
      brewer.put("name", station.name());
      brewer.put("plan", station.plan().title());
      brewer.put("water_g", station.plan().water().grams());
      ArrayNode drains = brewer.putArray("drain_s");
      station.drainSeconds().forEach(drains::add);
    }
    event(staged.file().rules(), node.putObject("event"));
    if (staged.outcome() instanceof Outcome.Planned planned) {
      planned(planned, node);
      node.put("margin_s", staged.marginSeconds());
      staged.odds().ifPresent(odds -> odds(staged, odds, node.putObject("odds")));
    } else if (staged.outcome() instanceof Outcome.Impossible impossible) {
      node.put("minimal", impossible.isMinimal());
      ArrayNode clash = node.putArray("clash");
      impossible.clash().forEach(rule -> clash.add(rule.words()));
    }
    return node;
  }

  private static String verdict(Outcome outcome) {
    if (outcome instanceof Outcome.Planned) {
      return "planned";
    }
    return outcome instanceof Outcome.Impossible ? "impossible" : "undecided";
  }

  private static void event(EventRules rules, ObjectNode node) {
    node.put("name", rules.name());
    node.put("limit_s", rules.limitSeconds());
    node.put("cups", rules.cups());
    node.put("least_ml", rules.leastMillilitres());
    node.put("note", EventRules.CHECK);
  }

  private static void planned(Outcome.Planned planned, ObjectNode node) {
    Timetable table = planned.timetable();
    node.put("proven", planned.isProvenBest());
    planned
        .gap()
        .ifPresent(
            gap -> {
              ObjectNode open = node.putObject("gap");
              open.put("wish", gap.wish().name().toLowerCase(Locale.ROOT));
              open.put("found_s", gap.found());
              open.put("bound_s", gap.bound());
            });
    node.put("late_s", table.lateSeconds());
    node.put("apart_s", table.apartSeconds());
    node.put("end_s", table.endSeconds());
    Totals totals = Totals.of(table);
    ArrayNode jobs = node.putArray("jobs");
    for (Timetable.Slot slot : table.slots()) {
      Job job = slot.job();
      ObjectNode each = jobs.addObject();
      each.put("start_s", slot.startSeconds());
      each.put("end_s", slot.endSeconds());
      each.put("do", job.chore().name().toLowerCase(Locale.ROOT));
      each.put("words", job.words());
      if (job.station() != Job.NO_STATION) {
        each.put("brewer", job.station() + 1);
      }
      if (job.chore() == Chore.POUR) {
        each.put("pour", job.pour());
        each.put("add_g", job.water().grams());
        each.put("total_g", totals.after(job));
      }
    }
  }

  private static void odds(Staged staged, Odds odds, ObjectNode node) {
    node.put("trials", odds.trials());
    node.put("seed", staged.seed());
    node.put("spreads_from", staged.spreadsFrom());
    node.set("in_time", share(odds.endsInTime()));
    node.set("all_well", share(odds.allGoesWell()));
    node.put("median_end_s", odds.medianEndSeconds());
    node.put("slow_end_s", odds.slowEndSeconds());
    ArrayNode pours = node.putArray("pours");
    for (Odds.PourOdds pour : odds.pours()) {
      ObjectNode each = pours.addObject();
      each.put("brewer", pour.station() + 1);
      each.put("pour", pour.pour());
      each.set("inside", share(odds.of(pour)));
      each.set("mass_inside", share(new Proportion(pour.massInside(), odds.trials())));
      each.set("start_inside", share(new Proportion(pour.startInside(), odds.trials())));
    }
  }

  private static ObjectNode share(Proportion share) {
    Interval interval = share.wilson(CONFIDENCE);
    ObjectNode node = JSON.objectNode();
    node.put("share", share.share());
    node.put("low", interval.low());
    node.put("high", interval.high());
    return node;
  }
}
