package pourwright.web;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import pourwright.coach.Advice;
import pourwright.coach.Cue;
import pourwright.coach.Guidance;
import pourwright.compare.Comparison;
import pourwright.compare.PouredCurve;
import pourwright.detect.Findings;
import pourwright.plan.Plan;
import pourwright.plan.Schedule;
import pourwright.plan.Start;
import pourwright.session.Afterword;
import pourwright.session.LaneView;
import pourwright.session.LinkView;
import pourwright.session.Outcome;
import pourwright.session.RehearsalView;
import pourwright.session.RunStart;
import pourwright.session.SeenPour;
import pourwright.sound.Note;
import pourwright.sound.Signal;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * What clients get, as JSON: grams, seconds and grams per second, each named with its unit.
 *
 * <p>Times named {@code _s} count from the start of the recording, those named {@code clock_s} from
 * the zero of the plan. A value that is not known is absent.
 */
final class PageJson {
  static final int FORMAT = 1;

  /** The curve of the debrief, points per second (1/s). */
  private static final int CURVE_RATE = 4;

  private static final int MOST_CURVE_POINTS = 20_000;
  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;

  private PageJson() {}

  /** The part of a track that a client lacks. */
  record Stretch(int lane, Track track, int from) {}

  static String run(int run, RunStart start) {
    ObjectNode node = message("run", run);
    node.put("program", start.program());
    node.put("started_at", start.at().toString());
    node.put("simulated", start.simulated());
    node.put("feedback", start.feedback().word());
    ArrayNode lanes = node.putArray("lanes");
    for (RunStart.Lane lane : start.lanes()) {
      ObjectNode one = lanes.addObject();
      one.put("number", lane.number());
      one.put("brewer", lane.brewer());
      one.put("rig", lane.rig().word());
      lane.plan().ifPresent(written -> one.set("plan", plan(written.plan())));
    }
    return node.toString();
  }

  private static ObjectNode plan(Plan plan) {
    ObjectNode node = JSON.objectNode();
    node.put("title", plan.title());
    node.put("dose_g", grams(plan.dose()));
    node.put("water_g", grams(plan.water()));
    plan.waterTemperatureCelsius().ifPresent(celsius -> node.put("water_temp_c", celsius));
    plan.targetStrengthPercent().ifPresent(percent -> node.put("target_strength_pct", percent));
    ObjectNode tolerance = node.putObject("tolerance");
    tolerance.put("mass_g", grams(plan.tolerance().mass()));
    tolerance.put("start_s", plan.tolerance().start().toNanos() / 1e9);
    tolerance.put("flow_g_per_s", plan.tolerance().flow().gramsPerSecond());
    ArrayNode pours = node.putArray("pours");
    for (Schedule.Slot slot : Schedule.of(plan).slots()) {
      ObjectNode pour = pours.addObject();
      pour.put("index", slot.pour().index());
      pour.put("add_g", grams(slot.pour().add()));
      pour.put("flow_g_per_s", slot.pour().flow().gramsPerSecond());
      pour.put("start_clock_s", seconds(slot.start()));
      pour.put("end_clock_s", seconds(slot.end()));
      pour.put("from_g", grams(slot.from()));
      pour.put("to_g", grams(slot.to()));
      pour.put("rule", rule(slot.pour().start()));
    }
    ArrayNode talk = node.putArray("talk");
    plan.talk()
        .forEach(
            mark -> talk.addObject().put("at_clock_s", seconds(mark.at())).put("say", mark.say()));
    return node;
  }

  static String rule(Start start) {
    if (start instanceof Start.AtClock) {
      return "clock";
    }
    return start instanceof Start.AfterEnd ? "gap" : "drained";
  }

  /** The notes of every cue, for whoever plays them. */
  static String sounds() {
    ObjectNode node = JSON.objectNode().put("type", "sounds").put("format", FORMAT);
    ArrayNode signals = node.putArray("signals");
    for (Signal signal : Signal.values()) {
      ObjectNode one = signals.addObject().put("kind", signal.kind()).put("word", signal.word());
      ArrayNode notes = one.putArray("notes");
      for (Note note : signal.notes()) {
        notes
            .addObject()
            .put("at_ms", note.atMillis())
            .put("for_ms", note.forMillis())
            .put("hz", note.hertz());
      }
    }
    return node.toString();
  }

  static String view(int run, RehearsalView view, Hidden hidden) {
    ObjectNode node = message("view", run);
    node.put("number", view.number());
    node.put("at_s", seconds(view.at()));
    node.put("phase", word(view.phase()));
    node.put("void", view.isVoid());
    view.movedScale()
        .ifPresent(
            standing -> {
              ObjectNode scale = node.putObject("moved_scale");
              scale.put("lane", standing.lane());
              scale.put("away", standing.away());
            });
    ArrayNode notices = node.putArray("notices");
    view.notices().forEach(notices::add);
    ArrayNode lanes = node.putArray("lanes");
    for (LaneView lane : view.lanes()) {
      lanes.add(lane(view, lane, hidden));
    }
    return node.toString();
  }

  private static ObjectNode lane(RehearsalView view, LaneView lane, Hidden hidden) {
    ObjectNode node = JSON.objectNode();
    node.put("number", lane.number());
    node.put("phase", word(lane.phase()));
    node.put("tared", lane.tared());
    lane.planClock(view.at()).ifPresent(clock -> node.put("clock_s", seconds(clock)));
    lane.planClock(SessionTime.ZERO).ifPresent(clock -> node.put("clock_zero_s", -seconds(clock)));
    node.put("hidden", hidden.isOn());
    lane.outlook()
        .ifPresent(
            outlook -> {
              node.put("doing", word(outlook.doing()));
              node.put("lag_s", rounded(outlook.lagSeconds(), 100));
              node.put("noise_g", rounded(outlook.noise().grams(), 1000));
              if (!hidden.isOn()) {
                node.put("poured_g", grams(outlook.poured()));
                node.put("in_this_pour_g", grams(outlook.inThisPour()));
                node.put("flow_g_per_s", rounded(outlook.flow().gramsPerSecond(), 100));
                outlook
                    .landing()
                    .ifPresent(landing -> node.put("landing_g", grams(landing.inThisPour())));
              }
            });
    ArrayNode pours = node.putArray("pours");
    for (SeenPour pour : lane.pours()) {
      ObjectNode one = pours.addObject();
      one.put("index", pour.index());
      one.put("start_s", seconds(pour.start()));
      pour.end().ifPresent(end -> one.put("end_s", seconds(end)));
      if (!hidden.hides(lane.number(), pour.index())) {
        one.put("poured_g", grams(pour.poured()));
      }
      Mass estimate = hidden.estimates().getOrDefault(lane.number(), Map.of()).get(pour.index());
      if (estimate != null) {
        one.put("estimate_g", grams(estimate));
      }
    }
    lane.guidance().ifPresent(guidance -> node.set("guide", guide(view, lane, guidance, hidden)));
    node.set("cues", cues(lane, hidden));
    lane.soFar().ifPresent(soFar -> node.set("judged", judged(lane, soFar, hidden)));
    ArrayNode links = node.putArray("links");
    lane.links().forEach(link -> links.add(link(view, link, hidden)));
    return node;
  }

  private static ObjectNode guide(
      RehearsalView view, LaneView lane, Guidance guidance, Hidden hidden) {
    ObjectNode node = JSON.objectNode();
    node.put("shown", guidance.shown() && !hidden.isOn());
    guidance.pour().ifPresent(pour -> node.put("pour", pour));
    if (guidance.pour().isPresent() && !lane.pours().isEmpty()) {
      SeenPour running = lane.pours().get(lane.pours().size() - 1);
      node.put("in_this_pour_s", seconds(view.at()) - seconds(running.start()));
    }
    if (!hidden.isOn()) {
      guidance.toGo().ifPresent(mass -> node.put("to_go_g", grams(mass)));
      guidance.ahead().ifPresent(mass -> node.put("ahead_g", grams(mass)));
      guidance
          .flow()
          .ifPresent(flow -> node.put("flow_g_per_s", rounded(flow.gramsPerSecond(), 100)));
      guidance
          .wantedFlow()
          .ifPresent(flow -> node.put("wanted_flow_g_per_s", rounded(flow.gramsPerSecond(), 100)));
    }
    guidance
        .next()
        .ifPresent(
            next -> {
              ObjectNode one = node.putObject("next");
              one.put("pour", next.pour());
              one.put("add_g", grams(next.add()));
              one.put("reason", word(next.reason()));
              next.secondsUntil(view.at()).ifPresent(until -> one.put("in_s", rounded(until, 100)));
            });
    return node;
  }

  /** A cue about how a pour went says how much it was, so in a blind run its words stay here. */
  private static ArrayNode cues(LaneView lane, Hidden hidden) {
    ArrayNode node = JSON.arrayNode();
    int number = 0;
    for (Cue cue : lane.cues()) {
      number++;
      ObjectNode one = node.addObject();
      one.put("number", number);
      one.put("kind", word(cue.kind()));
      one.put("at_s", seconds(cue.at()));
      cue.pour().ifPresent(pour -> one.put("pour", pour));
      if (!hidden.isOn() || cue.kind() != Cue.Kind.POURED) {
        one.put("say", cue.say());
      }
    }
    return node;
  }

  /** The ended pours, but not those that may still come. */
  private static ArrayNode judged(LaneView lane, Comparison soFar, Hidden hidden) {
    ArrayNode node = JSON.arrayNode();
    int last = 0;
    for (int i = 0; i < soFar.pours().size(); i++) {
      if (!soFar.pours().get(i).made().isEmpty()) {
        last = i + 1;
      }
    }
    for (Comparison.JudgedPour pour : soFar.pours().subList(0, last)) {
      if (pour.made().stream().noneMatch(made -> hidden.hides(lane.number(), made))) {
        node.add(judgedPour(pour));
      }
    }
    return node;
  }

  private static ObjectNode judgedPour(Comparison.JudgedPour pour) {
    ObjectNode node = JSON.objectNode();
    pour.planned().ifPresent(index -> node.put("planned", index));
    ArrayNode made = node.putArray("made");
    pour.made().forEach(made::add);
    node.put("verdict", pour.verdict().word());
    node.put("mass_error_g", grams(pour.massError()));
    pour.placing()
        .ifPresent(
            placing -> {
              node.put("start_error_s", rounded(placing.startError().toNanos() / 1e9, 100));
              node.put("length_error_s", rounded(placing.lengthError().toNanos() / 1e9, 100));
              node.put("flow_error_g_per_s", rounded(placing.flowError().gramsPerSecond(), 100));
            });
    ArrayNode reasons = node.putArray("reasons");
    pour.reasons().forEach(reasons::add);
    return node;
  }

  private static ObjectNode link(RehearsalView view, LinkView link, Hidden hidden) {
    ObjectNode node = JSON.objectNode();
    node.put("place", link.stand().place().word());
    node.put("address", link.address());
    node.put("profile", link.profile());
    node.put("heard", link.heard());
    if (!hidden.isOn()) {
      link.showing().ifPresent(mass -> node.put("shows_g", grams(mass)));
    }
    node.put("out_of_range", link.outOfRange());
    node.put("readings_per_s", rounded(link.readingsPerSecond(), 10));
    if (link.away()) {
      node.put("away", true);
    }
    node.put("losses", link.losses());
    node.put("junk", link.junk());
    link.batteryPercent().ifPresent(percent -> node.put("battery_pct", percent));
    link.loss()
        .ifPresent(
            loss -> {
              ObjectNode one = node.putObject("loss");
              one.put("for_s", rounded(view.at().secondsSince(loss.since()), 10));
              one.put("why", loss.why());
            });
    return node;
  }

  /** {@code view} with the stretches of trace that one client lacks. */
  static String withTrace(String view, List<Stretch> news) {
    ArrayNode trace = JSON.arrayNode();
    for (Stretch stretch : news) {
      ObjectNode one = trace.addObject();
      one.put("lane", stretch.lane());
      one.put("from", stretch.from());
      ArrayNode seconds = one.putArray("s");
      ArrayNode grams = one.putArray("g");
      for (int i = stretch.from(); i < stretch.track().size(); i++) {
        seconds.add(rounded(stretch.track().seconds(i), 1000));
        grams.add(rounded(stretch.track().grams(i), 100));
      }
    }
    return view.substring(0, view.length() - 1) + ",\"trace\":" + trace + "}";
  }

  /**
   * The judged run.
   *
   * @param tracks what was shown live, for lanes whose outcome has no curve of its own
   */
  static String outcome(
      int run,
      Outcome outcome,
      Hidden hidden,
      List<Afterword> afterwords,
      Map<Integer, Track> tracks) {
    ObjectNode node = message("outcome", run);
    node.put("why", word(outcome.why()));
    node.put("length_s", rounded(outcome.length().toNanos() / 1e9, 10));
    node.put("void", outcome.isVoid());
    if (!hidden.isOn()) {
      workOn(outcome).ifPresent(advice -> node.put("work_on", advice));
    }
    ArrayNode lanes = node.putArray("lanes");
    for (Outcome.LaneOutcome lane : outcome.lanes()) {
      lanes.add(laneOutcome(outcome, lane, hidden, Optional.ofNullable(tracks.get(lane.number()))));
    }
    ArrayNode notes = node.putArray("afterwords");
    for (Afterword afterword : afterwords) {
      ObjectNode one = notes.addObject();
      one.put("lane", afterword.lane());
      afterword.strengthPercent().ifPresent(percent -> one.put("strength_pct", percent));
      afterword.note().ifPresent(note -> one.put("note", note));
    }
    return node.toString();
  }

  /** Of the lane that departed most from its plan. */
  private static Optional<String> workOn(Outcome outcome) {
    return outcome.lanes().stream()
        .filter(lane -> lane.comparison().isPresent())
        .max(Comparator.comparingDouble(lane -> lane.comparison().get().deviationIndex()))
        .flatMap(
            lane -> {
              RunStart.Lane start = outcome.start().lanes().get(lane.number() - 1);
              String whose = outcome.lanes().size() > 1 ? start.brewer() + ": " : "";
              return start
                  .plan()
                  .map(
                      written ->
                          whose + Advice.workOn(written.plan(), lane.comparison().orElseThrow()));
            });
  }

  private static ObjectNode laneOutcome(
      Outcome outcome, Outcome.LaneOutcome lane, Hidden hidden, Optional<Track> track) {
    ObjectNode node = JSON.objectNode();
    node.put("number", lane.number());
    Findings findings = lane.analysis().findings();
    boolean isHidden =
        findings.pours().stream().anyMatch(pour -> hidden.hides(lane.number(), pour.index()));
    node.put("hidden", isHidden);
    ArrayNode pours = node.putArray("pours");
    for (Findings.Pour pour : findings.pours()) {
      ObjectNode one = pours.addObject();
      one.put("index", pour.index());
      Mass estimate = hidden.estimates().getOrDefault(lane.number(), Map.of()).get(pour.index());
      if (estimate == null) {
        estimate = lane.estimates().get(pour.index());
      }
      if (estimate != null) {
        one.put("estimate_g", grams(estimate));
      }
      if (!hidden.hides(lane.number(), pour.index())) {
        one.put("start_s", seconds(pour.start()));
        one.put("end_s", seconds(pour.end()));
        one.put("poured_g", grams(pour.poured()));
        one.put("flow_g_per_s", rounded(pour.meanFlow().gramsPerSecond(), 100));
      }
    }
    if (isHidden) {
      return node;
    }
    if (!findings.pours().isEmpty()) {
      node.put("clock_zero_s", clockZero(outcome, lane, findings));
    }
    ArrayNode drawdowns = node.putArray("drawdowns");
    for (Findings.Drawdown drawdown : findings.drawdowns()) {
      ObjectNode one = drawdowns.addObject();
      one.put("after_pour", drawdown.afterPour());
      one.put("start_s", seconds(drawdown.start()));
      one.put("end_s", seconds(drawdown.end()));
      one.put("basis", word(drawdown.basis()));
    }
    findings
        .lift()
        .ifPresent(
            lift -> {
              ObjectNode one = node.putObject("lift");
              one.put("time_s", seconds(lift.time()));
              one.put("removed_g", grams(lift.removed()));
              lift.beverage().ifPresent(mass -> one.put("beverage_g", grams(mass)));
            });
    ArrayNode warnings = node.putArray("warnings");
    findings.warnings().forEach(warnings::add);
    lane.comparison()
        .ifPresent(
            comparison -> {
              node.put("deviation_index", rounded(comparison.deviationIndex(), 1000));
              ArrayNode judged = node.putArray("judged");
              comparison.pours().forEach(pour -> judged.add(judgedPour(pour)));
            });
    if (!lane.curve().isEmpty()) {
      node.set("curve", curve(outcome, lane.curve()));
    } else {
      track.ifPresent(shown -> node.set("curve", curve(shown)));
    }
    return node;
  }

  private static double clockZero(Outcome outcome, Outcome.LaneOutcome lane, Findings findings) {
    SessionTime water = findings.pours().get(0).start();
    return seconds(
        outcome
            .start()
            .lanes()
            .get(lane.number() - 1)
            .plan()
            .map(written -> Schedule.of(written.plan()).clockZero(water))
            .orElse(water));
  }

  private static ObjectNode curve(Track track) {
    ObjectNode node = JSON.objectNode();
    ArrayNode seconds = node.putArray("s");
    ArrayNode grams = node.putArray("g");
    for (int i = 0; i < track.size(); i++) {
      seconds.add(rounded(track.seconds(i), 1000));
      grams.add(rounded(track.grams(i), 100));
    }
    return node;
  }

  private static ObjectNode curve(Outcome outcome, PouredCurve curve) {
    ObjectNode node = JSON.objectNode();
    ArrayNode seconds = node.putArray("s");
    ArrayNode grams = node.putArray("g");
    long points = Math.min(MOST_CURVE_POINTS, outcome.length().toMillis() * CURVE_RATE / 1000 + 1);
    for (long i = 0; i < points; i++) {
      SessionTime at = SessionTime.ofMillis(i * 1000 / CURVE_RATE);
      seconds.add(seconds(at));
      grams.add(grams(curve.massAt(at)));
    }
    return node;
  }

  private static ObjectNode message(String type, int run) {
    return JSON.objectNode().put("type", type).put("format", FORMAT).put("run", run);
  }

  private static String word(Enum<?> value) {
    return value.name().toLowerCase(Locale.ROOT);
  }

  private static double grams(Mass mass) {
    return rounded(mass.grams(), 100);
  }

  private static double seconds(SessionTime time) {
    return rounded(time.seconds(), 1000);
  }

  private static double rounded(double value, double steps) {
    // Adding zero turns a minus zero into a plain one.
    return Math.rint(value * steps) / steps + 0.0;
  }
}
