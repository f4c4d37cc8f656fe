package pourwright.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.StringJoiner;
import pourwright.bench.Tally.Count;
import pourwright.bench.Tally.Measure;
import pourwright.detect.Basis;
import pourwright.detect.Findings;
import pourwright.detect.PourEvent;
import pourwright.rig.Rig;

/** Compares what was found with what was true. */
final class Scorer {
  /** A found pour this close to a true one may be it (s). */
  private static final double NEAR_SECONDS = 0.5;

  /** Outflow follows the pour, so a pour inferred from it may be this far off (s). */
  private static final double INFERRED_NEAR_SECONDS = 3;

  /** An end announced this long before the last water was wrong about the pour (s). */
  private static final double EARLY_SECONDS = 0.5;

  /** Edges this close to the end of a recording cannot have been announced (s). */
  private static final double LAST_SECONDS = 2.5;

  /** A case names its first faults up to this many characters. */
  private static final int MOST_WORDS = 160;

  private final Tally tally;
  private double badness;
  private StringJoiner why = new StringJoiner("; ");

  Scorer(Tally tally) {
    this.tally = tally;
  }

  /**
   * A pour as found, by its times.
   *
   * @param index its place among the found ones, from 0
   */
  private record Span(int index, double start, double end) {
    double overlap(Truth.Pour pour, double near) {
      return Math.min(end + near, pour.endSeconds()) - Math.max(start - near, pour.startSeconds());
    }
  }

  void score(Take take, Finder.Found found) {
    badness = 0;
    why = new StringJoiner("; ");
    Truth truth = take.truth();
    double near = take.rig() == Rig.SERVER ? INFERRED_NEAR_SECONDS : NEAR_SECONDS;
    for (int i = 0; i < truth.pours().size(); i++) {
      tally.count(Count.POURS);
      Bounds bounds = Bounds.of(take.leading(), truth, i);
      tally.add(Measure.BOUND_LIVE_START, bounds.startSeconds());
      tally.add(Measure.BOUND_LIVE_END, bounds.endSeconds());
      tally.add(Measure.BOUND_START, bounds.onsetSeconds());
      tally.add(Measure.BOUND_END, bounds.lastSeconds());
      tally.add(Measure.BOUND_MASS, bounds.massGrams());
    }
    scoreLive(take, found.announced(), near);
    scoreFindings(take, found.findings(), near);
    scoreLift(truth, found.findings().lift());
    tally.add(new Tally.Case(take.seed(), badness, why.toString()));
  }

  private void scoreLive(Take take, List<PourEvent> announced, double near) {
    Truth truth = take.truth();
    List<PourEvent.PourStarted> starts = of(announced, PourEvent.PourStarted.class);
    List<PourEvent.PourEnded> ends = of(announced, PourEvent.PourEnded.class);
    List<Span> spans = new ArrayList<>();
    for (int i = 0; i < starts.size(); i++) {
      double end =
          endOf(ends, starts.get(i)).map(event -> event.at().seconds()).orElse(truth.endSeconds());
      spans.add(new Span(i, starts.get(i).at().seconds(), end));
    }
    List<Optional<Span>> matched = match(truth, spans, near);
    Target target = tally.family().target();
    for (int i = 0; i < truth.pours().size(); i++) {
      Truth.Pour pour = truth.pours().get(i);
      Optional<Span> span = matched.get(i);
      if (span.isEmpty()) {
        if (!isTooLate(truth, pour)) {
          tally.count(Count.LIVE_MISSED);
          blame(10, "live missed pour " + (i + 1));
        }
        continue;
      }
      PourEvent.PourStarted started = starts.get(span.get().index());
      if (!truth.isVeiled(pour.startSeconds())) {
        measure(
            Measure.LIVE_START,
            started.knownAt().seconds() - pour.startSeconds(),
            target.liveStart(),
            "pour " + (i + 1));
      }
      if (!pour.isCut() && !truth.isVeiled(pour.endSeconds())) {
        double known =
            endOf(ends, started)
                .map(event -> event.knownAt().seconds())
                .orElse(Double.POSITIVE_INFINITY);
        double delay = known - pour.endSeconds();
        if (delay < -EARLY_SECONDS) {
          tally.count(Count.LIVE_EARLY);
          blame(5, "live end early by %.1f s, pour %d".formatted(-delay, i + 1));
        }
        measure(Measure.LIVE_END, delay, target.liveEnd(), "pour " + (i + 1));
      }
    }
    for (Span extra : unmatched(spans, matched)) {
      tally.count(Count.LIVE_FALSE);
      blame(10, "live false pour at %.1f s%s".formatted(extra.start(), near(truth, extra.start())));
    }
  }

  private void scoreFindings(Take take, Findings findings, double near) {
    Truth truth = take.truth();
    List<Span> spans = new ArrayList<>();
    for (Findings.Pour pour : findings.pours()) {
      spans.add(new Span(pour.index(), pour.start().seconds(), pour.end().seconds()));
    }
    List<Optional<Span>> matched = match(truth, spans, near);
    Target target = tally.family().target();
    for (int i = 0; i < truth.pours().size(); i++) {
      Truth.Pour pour = truth.pours().get(i);
      Optional<Span> span = matched.get(i);
      if (span.isEmpty()) {
        if (!isTooLate(truth, pour)) {
          tally.count(Count.MISSED);
          blame(10, "missed pour " + (i + 1));
        }
        continue;
      }
      String which = "pour " + (i + 1);
      Findings.Pour found =
          findings.pours().stream()
              .filter(candidate -> candidate.index() == span.get().index())
              .findFirst()
              .orElseThrow();
      double start =
          truth.isVeiled(pour.startSeconds())
              ? Double.NaN
              : found.start().seconds() - pour.startSeconds();
      double end =
          pour.isCut() || truth.isVeiled(pour.endSeconds())
              ? Double.NaN
              : found.end().seconds() - pour.endSeconds();
      double mass = pour.isCut() ? Double.NaN : found.poured().grams() - pour.grams();
      measure(Measure.START, Math.abs(start), target.start(), which);
      measure(Measure.END, Math.abs(end), target.end(), which);
      measure(Measure.MASS, Math.abs(mass), target.mass(), which);
      tally.add(new Tally.Sighting(take.seed(), i + 1, start, end, mass, take.about()));
      if (take.rig() != Rig.WHOLE) {
        scoreDrained(truth, pour, findings, found.index());
      }
    }
    for (Span extra : unmatched(spans, matched)) {
      tally.count(Count.FALSE);
      blame(10, "false pour at %.1f s%s".formatted(extra.start(), near(truth, extra.start())));
    }
  }

  private void scoreDrained(Truth truth, Truth.Pour pour, Findings findings, int index) {
    if (pour.drainedSeconds().isEmpty()
        || pour.drainedSeconds().get() > truth.endSeconds() - LAST_SECONDS) {
      return;
    }
    double drained = pour.drainedSeconds().get();
    tally.count(Count.DRAINED_DUE);
    Optional<Findings.Drawdown> measured =
        findings.drawdowns().stream()
            .filter(drawdown -> drawdown.afterPour() == index)
            .filter(drawdown -> drawdown.basis() == Basis.MEASURED)
            .findFirst();
    if (measured.isEmpty()) {
      tally.count(Count.DRAINED_MISSED);
      blame(2, "drained not seen at %.1f s".formatted(drained));
      return;
    }
    measure(
        Measure.DRAINED,
        Math.abs(measured.get().end().seconds() - drained),
        tally.family().target().drained(),
        "at %.1f s".formatted(drained));
  }

  private void scoreLift(Truth truth, Optional<Findings.Lift> found) {
    if (truth.lift().isEmpty()) {
      if (found.isPresent()) {
        tally.count(Count.LIFT_FALSE);
        blame(5, "false lift at " + found.get().time());
      }
      return;
    }
    Truth.Lift lift = truth.lift().get();
    if (found.isEmpty()) {
      tally.count(Count.LIFT_MISSED);
      blame(5, "lift missed");
      return;
    }
    measure(
        Measure.LIFT,
        Math.abs(found.get().time().seconds() - lift.seconds()),
        new Target.Spread(0.06, 0.15),
        "");
    measure(
        Measure.REMOVED,
        Math.abs(found.get().removed().grams() - lift.removedGrams()),
        new Target.Spread(0.1, 0.3),
        "");
    if (lift.isPlacingSeen()) {
      if (found.get().beverage().isEmpty()) {
        tally.count(Count.BEVERAGE_MISSED);
        blame(2, "beverage not known");
      } else {
        measure(
            Measure.BEVERAGE,
            Math.abs(found.get().beverage().get().grams() - lift.beverageGrams()),
            new Target.Spread(0.15, 0.5),
            "");
      }
    }
  }

  private void measure(Measure measure, double error, Target.Spread target, String which) {
    tally.add(measure, error);
    if (error > target.p95()) {
      blame(
          Math.min(4, error / target.p95()),
          "%s off by %.2f %s %s".formatted(measure.words(), error, measure.unit(), which).strip());
    }
  }

  private void blame(double amount, String reason) {
    badness += amount;
    if (why.length() < MOST_WORDS) {
      why.add(reason);
    }
  }

  /** What else happened then, in words. */
  private static String near(Truth truth, double seconds) {
    StringJoiner words = new StringJoiner(", ", " (", ")").setEmptyValue("");
    for (Truth.Mishap mishap : truth.mishaps()) {
      if (seconds > mishap.startSeconds() - 1 && seconds < mishap.endSeconds() + 1) {
        words.add(mishap.kind());
      }
    }
    truth
        .lift()
        .filter(lift -> Math.abs(lift.seconds() - seconds) < 1)
        .ifPresent(lift -> words.add("lift"));
    return words.toString();
  }

  private static boolean isTooLate(Truth truth, Truth.Pour pour) {
    return pour.startSeconds() > truth.endSeconds() - LAST_SECONDS;
  }

  /** For each true pour the found one that overlaps it most; each is given once. */
  private static List<Optional<Span>> match(Truth truth, List<Span> spans, double near) {
    List<Optional<Span>> matched = new ArrayList<>();
    List<Span> left = new ArrayList<>(spans);
    for (Truth.Pour pour : truth.pours()) {
      Optional<Span> best =
          left.stream()
              .filter(span -> span.overlap(pour, near) > 0)
              .max(
                  (one, other) ->
                      Double.compare(one.overlap(pour, near), other.overlap(pour, near)));
      best.ifPresent(left::remove);
      matched.add(best);
    }
    return matched;
  }

  private static List<Span> unmatched(List<Span> spans, List<Optional<Span>> matched) {
    List<Span> left = new ArrayList<>(spans);
    matched.forEach(span -> span.ifPresent(left::remove));
    return left;
  }

  private static Optional<PourEvent.PourEnded> endOf(
      List<PourEvent.PourEnded> ends, PourEvent.PourStarted start) {
    return ends.stream()
        .filter(end -> end.index() == start.index() && !end.at().isBefore(start.at()))
        .findFirst();
  }

  private static <E extends PourEvent> List<E> of(List<PourEvent> events, Class<E> kind) {
    return events.stream().filter(kind::isInstance).map(kind::cast).toList();
  }
}
