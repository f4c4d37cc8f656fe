package pourwright.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.coach.Cue;
import pourwright.coach.Guidance;
import pourwright.compare.Comparison;
import pourwright.session.LaneView;
import pourwright.session.LinkView;
import pourwright.session.Phase;
import pourwright.session.RehearsalView;
import pourwright.session.SeenPour;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * A rehearsal as lines of a terminal: what to do now in figures that can be read from two metres,
 * then what comes next, how the last pours went, and how the scales are heard. Nothing is told by
 * colour alone.
 */
final class LiveText {
  /** A cue stays up this long (s); own choice. */
  private static final double CUE_SECONDS = 2.5;

  private static final int BIG_FIGURES_FROM_ROWS = 20;
  private static final int HUGE_FIGURES_FROM_ROWS = 32;
  private static final int HUGE_FIGURES_FROM_COLUMNS = 116;

  private static final int KEYS_FROM_ROWS = 12;

  /** What to do, an empty line, the figure, the flow, and where the pour stands. */
  private static final int LINES_AROUND_FIGURE = 4;

  /** From this many seconds on, tenths would only flicker; own choice. */
  private static final double WHOLE_SECONDS_FROM = 10;

  private static final int LAST_POURS = 4;

  private final RehearsalView view;
  private final int columns;
  private final int rows;

  /** How often each dot of a figure is drawn; 0 for figures like other text. */
  private final int figureScale;

  private final List<String> lines = new ArrayList<>();

  private LiveText(RehearsalView view, int columns, int rows) {
    this.view = view;
    this.columns = Math.max(20, columns);
    this.rows = rows;
    boolean isRoomy = view.lanes().size() == 1 && rows >= BIG_FIGURES_FROM_ROWS;
    boolean isHuge = rows >= HUGE_FIGURES_FROM_ROWS && columns >= HUGE_FIGURES_FROM_COLUMNS;
    this.figureScale = !isRoomy ? 0 : isHuge ? 2 : 1;
  }

  /** At most {@code rows} lines of at most {@code columns} characters. */
  static List<String> of(RehearsalView view, int columns, int rows) {
    LiveText text = new LiveText(view, columns, rows);
    text.all();
    return text.lines.stream()
        .limit(rows)
        .map(line -> line.length() > text.columns ? line.substring(0, text.columns) : line)
        .toList();
  }

  private void line(String pattern, Object... values) {
    lines.add(String.format(Locale.ROOT, pattern, values).stripTrailing());
  }

  private void all() {
    for (String notice : view.notices()) {
      line("! %s", notice);
    }
    if (view.isVoid()) {
      line("! this run is void (v takes that back)");
    }
    view.lanes().forEach(this::lane);
    while (lines.size() < rows - 1) {
      lines.add("");
    }
    if (rows >= KEYS_FROM_ROWS && lines.size() >= rows) {
      lines.subList(rows - 1, lines.size()).clear(); // rather the keys than what stands lowest
    }
    String figures =
        view.movedScale().isPresent()
            ? "1-" + view.lanes().size() + " whose rig is on the scale"
            : "(own guess: type grams, Enter)";
    line("v void   d drained   t tare   q end   %s", figures);
  }

  private void lane(LaneView lane) {
    heading(lane);
    line("%s", "-".repeat(columns));
    Optional<Guidance> guidance = lane.guidance();
    boolean isShown = guidance.map(Guidance::shown).orElse(true);
    int begun = lines.size();
    if (lane.links().stream().anyMatch(link -> link.loss().isPresent())) {
      line("SCALE LOST");
      lane.links().forEach(link -> link.loss().ifPresent(loss -> line("%s", loss.why())));
    } else if (!isShown && lane.phase() == Phase.RUNNING) {
      line("no figures now: pour by feel");
    } else {
      now(lane);
    }
    // What stands below keeps its place whatever is said here, so that the eye finds it.
    while (figureScale > 0
        && lines.size() < begun + LINES_AROUND_FIGURE + BigFigures.ROWS * figureScale) {
      lines.add("");
    }
    line("");
    cue(lane);
    guidance.ifPresent(this::next);
    lastPours(lane, isShown);
    lane.links().forEach(link -> link(link, isShown || lane.phase() != Phase.RUNNING));
    line("");
  }

  private void heading(LaneView lane) {
    String title = lane.schedule().map(plan -> plan.plan().title()).orElse("free run");
    String name = view.lanes().size() == 1 ? title : lane.brewer() + ": " + title;
    String clock = lane.planClock(view.at()).map(Words::clock).orElse("-:--");
    String right = view.feedback().word() + " feedback   " + clock;
    int room = columns - right.length() - 1;
    String left = name.length() > room ? name.substring(0, Math.max(0, room)) : name;
    line("%s%s%s", left, " ".repeat(Math.max(1, columns - left.length() - right.length())), right);
  }

  /** The one thing to look at. */
  private void now(LaneView lane) {
    Optional<Guidance> guidance = lane.guidance();
    Optional<SeenPour> running =
        lane.pours().stream().filter(pour -> pour.end().isEmpty()).findFirst();
    switch (lane.phase()) {
      case LOOKING_FOR_SCALE -> line("waiting for the scale");
      case SETTLING ->
          line(
              "%s",
              lane.tared()
                  ? "wait until the rig is still"
                  : "put everything on and press tare" + showing(lane));
      case ARMED -> {
        line("READY: the first water starts the clock");
        guidance.flatMap(Guidance::next).ifPresent(next -> figure(tenths(next.add().grams()), "g"));
      }
      case RUNNING -> {
        if (running.isPresent()) {
          pouring(lane, running.get());
        } else {
          waiting(lane);
        }
      }
      case FINISHED -> line("FINISHED");
    }
  }

  private static String showing(LaneView lane) {
    return lane.links().stream()
        .findFirst()
        .flatMap(LinkView::showing)
        .map(mass -> " (now " + Words.grams(mass) + ")")
        .orElse("");
  }

  private void pouring(LaneView lane, SeenPour pour) {
    Optional<Guidance> guidance = lane.guidance();
    Optional<Mass> toGo = guidance.flatMap(Guidance::toGo);
    if (guidance.isEmpty() || toGo.isEmpty()) {
      line("POUR %d: poured", pour.index());
      figure(tenths(pour.poured().grams()), "g");
      return;
    }
    int planned = guidance.get().pour().orElse(pour.index());
    int of = lane.schedule().map(plan -> plan.slots().size()).orElse(0);
    line("POUR %d of %d: to go", planned, of);
    figure(tenths(toGo.get().grams()), "g");
    line(
        "flow %s of %s",
        guidance.get().flow().map(Words::flow).orElse("-"),
        guidance.get().wantedFlow().map(Words::flow).orElse("-"));
    guidance
        .get()
        .ahead()
        .ifPresent(
            ahead -> line("behind %s ahead   %s", rail(lane, ahead), Words.signedGrams(ahead)));
  }

  /** Where the poured mass stands against the plan, the tolerance marked by the brackets. */
  private static String rail(LaneView lane, Mass ahead) {
    double tolerance =
        lane.schedule().map(plan -> plan.plan().tolerance().mass().grams()).orElse(2.0);
    int half = 12;
    int inside = half / 3;
    StringBuilder rail = new StringBuilder(".".repeat(2 * half + 1));
    rail.setCharAt(half - inside, '[');
    rail.setCharAt(half, '|');
    rail.setCharAt(half + inside, ']');
    int at = half + (int) Math.round(ahead.grams() / tolerance * inside);
    rail.setCharAt(Math.max(0, Math.min(2 * half, at)), 'O');
    return rail.toString();
  }

  private void waiting(LaneView lane) {
    Optional<Guidance.Next> next = lane.guidance().flatMap(Guidance::next);
    Optional<Double> seconds = next.flatMap(coming -> coming.secondsUntil(view.at()));
    if (next.isPresent() && seconds.isPresent()) {
      line(
          "%s",
          seconds.get() >= 0
              ? "WAIT: pour " + next.get().pour() + " in"
              : "POUR " + next.get().pour() + ": late by");
      figure(seconds(Math.abs(seconds.get())), "s");
    } else if (next.isPresent()) {
      line("WAIT for pour %d", next.get().pour());
    } else if (lane.schedule().isPresent()) {
      line("ALL POURED: lift the dripper when it has drained");
    } else {
      line("WAIT");
    }
  }

  private static String tenths(double value) {
    return String.format(Locale.ROOT, "%.1f", Math.rint(value * 10) / 10 + 0.0);
  }

  private static String seconds(double value) {
    return value >= WHOLE_SECONDS_FROM
        ? String.format(Locale.ROOT, "%.0f", Math.floor(value))
        : tenths(value);
  }

  private void figure(String text, String unit) {
    if (figureScale > 0) {
      line("");
      lines.addAll(BigFigures.of(text, unit, figureScale));
    } else {
      line("  %s %s", text, unit);
    }
  }

  private void cue(LaneView lane) {
    if (lane.cues().isEmpty()) {
      line("");
      return;
    }
    Cue cue = lane.cues().get(lane.cues().size() - 1);
    boolean isFresh = view.at().secondsSince(cue.at()) <= CUE_SECONDS;
    line("%s", isFresh ? ">>> " + cue.say() : "");
  }

  private void next(Guidance guidance) {
    Optional<Guidance.Next> next = guidance.next();
    if (next.isEmpty()) {
      line("next: nothing more to pour");
      return;
    }
    String when =
        switch (next.get().reason()) {
          case FIRST -> "starts the clock";
          case CLOCK -> "by the clock";
          case GAP -> "after the gap";
          case DRAINED -> "the bed has drained";
          case DRAINED_EXPECTED -> "when drained, expected then";
        };
    String due =
        next.get()
            .due()
            .flatMap(at -> guidance.planClock().map(clock -> plan(clock, guidance.at(), at)))
            .map(at -> " at " + Words.clock(at))
            .orElse("");
    line("next: pour %d, %s%s (%s)", next.get().pour(), Words.grams(next.get().add()), due, when);
  }

  private static SessionTime plan(SessionTime clock, SessionTime now, SessionTime at) {
    return clock.plus(at.since(now));
  }

  private void lastPours(LaneView lane, boolean isShown) {
    if (!isShown) {
      return;
    }
    List<SeenPour> ended = lane.pours().stream().filter(pour -> pour.end().isPresent()).toList();
    for (SeenPour pour : ended.subList(Math.max(0, ended.size() - LAST_POURS), ended.size())) {
      line("last: pour %d  %s%s", pour.index(), Words.grams(pour.poured()), verdict(lane, pour));
    }
  }

  private static String verdict(LaneView lane, SeenPour pour) {
    Optional<Comparison.JudgedPour> judged =
        lane.soFar().stream()
            .flatMap(so -> so.pours().stream())
            .filter(line -> line.made().contains(pour.index()))
            .findFirst();
    return judged
        .map(
            line ->
                "  "
                    + Words.signedGrams(line.massError())
                    + line.placing()
                        .map(placing -> "  start " + Words.signedSeconds(placing.startError()))
                        .orElse("")
                    + "  "
                    + line.verdict().word())
        .orElse("");
  }

  private void link(LinkView link, boolean isShown) {
    String battery =
        link.batteryPercent().isPresent()
            ? ", battery " + link.batteryPercent().getAsInt() + " %"
            : "";
    line(
        "scale (%s): %s%s%s%s%s",
        link.stand().place().word(),
        isShown ? link.showing().map(Words::grams).orElse("no weight yet") : "heard",
        link.outOfRange() ? " OUT OF RANGE" : "",
        String.format(Locale.ROOT, ", %.0f a second", link.readingsPerSecond()),
        battery,
        link.losses() > 0 ? ", lost " + link.losses() + " times" : "");
  }
}
