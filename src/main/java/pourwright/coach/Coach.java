package pourwright.coach;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import pourwright.coach.Cue.Kind;
import pourwright.coach.Guidance.Next;
import pourwright.coach.Guidance.Reason;
import pourwright.coach.Progress.Turn;
import pourwright.compare.MadePour;
import pourwright.detect.Outlook;
import pourwright.detect.PourEvent;
import pourwright.plan.PlannedPour;
import pourwright.plan.Schedule;
import pourwright.plan.Start;
import pourwright.plan.TalkMark;
import pourwright.plan.Tolerance;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Tells the brewer what to do now. Immutable: hearing or speaking gives the coach that comes after.
 *
 * <p>Each moment it looks at what holds ("the landing forecast plus what a reacting hand still adds
 * reaches the target") and says what it has not said yet and what the {@link Feedback} admits.
 * Under fewer words a cue is therefore said late rather than lost: in {@link Feedback#BANDWIDTH}
 * the stop comes when the pour is about to leave its tolerance.
 */
public final class Coach {
  /** The flow of a pour that has just begun says nothing (s). */
  private static final double FLOW_SETTLES_SECONDS = 2;

  /** A flow is called wrong when it has been so for this long (s). */
  private static final double FLOW_PATIENCE_SECONDS = 1;

  /** A talk mark that could not be said by then is left out (s). */
  private static final double TALK_STALE_SECONDS = 15;

  private final Schedule schedule;
  private final CoachSettings settings;
  private final boolean seesWater;
  private final Progress progress;
  private final Set<Said> said;
  private final Optional<FlowError> flowError;

  /** A cue that was said, about a pour or another numbered thing. */
  private record Said(Kind kind, int number) {}

  /** A flow outside the tolerance, and since when. */
  private record FlowError(Kind cue, SessionTime since) {}

  /** A cue that holds now. */
  private record Holding(Said what, boolean outside, OptionalInt pour, String say) {}

  /** What came of one moment. */
  public record Step(Coach next, Guidance guidance, List<Cue> cues) {
    public Step {
      cues = List.copyOf(cues);
    }
  }

  private Coach(
      Schedule schedule,
      CoachSettings settings,
      boolean seesWater,
      Progress progress,
      Set<Said> said,
      Optional<FlowError> flowError) {
    this.schedule = schedule;
    this.settings = settings;
    this.seesWater = seesWater;
    this.progress = progress;
    this.said = Set.copyOf(said);
    this.flowError = flowError;
  }

  /** A coach at the start of a run. */
  public static Coach of(Schedule schedule, CoachSettings settings) {
    return atStart(schedule, settings, true);
  }

  /**
   * A coach at the start of a run in which the water is not weighed as it lands, only what runs out
   * of the bed: it tells when to pour, but not how much more, nor whether it was enough.
   */
  public static Coach withoutAmounts(Schedule schedule, CoachSettings settings) {
    return atStart(schedule, settings, false);
  }

  private static Coach atStart(Schedule schedule, CoachSettings settings, boolean seesWater) {
    return new Coach(
        schedule, settings, seesWater, Progress.atStart(schedule), Set.of(), Optional.empty());
  }

  /** After an announced event. */
  public Coach heard(PourEvent event) {
    return with(progress.heard(event));
  }

  /** After the brewer marked the bed as dry. */
  public Coach markedDrained(SessionTime at) {
    return with(progress.markedDrained(at));
  }

  private Coach with(Progress now) {
    return new Coach(schedule, settings, seesWater, now, said, flowError);
  }

  /**
   * What to show and say at {@code now}.
   *
   * @param outlook what the detector sees; empty while nothing was weighed
   */
  public Step at(SessionTime now, Optional<Outlook> outlook) {
    Optional<Turn> turn = progress.turn();
    Guidance guidance = guidance(now, turn, outlook);
    Optional<FlowError> error = flowError(now, turn, guidance);
    List<Holding> holding = new ArrayList<>();
    boolean isBlind = outlook.filter(seen -> seen.doing() == Outlook.Doing.BLIND).isPresent();
    holdLink(holding, isBlind);
    if (!progress.lifted()) {
      holdPoured(holding);
      if (!isBlind) {
        turn.ifPresent(running -> holdPour(holding, now, running, guidance, error));
      }
      guidance.next().ifPresent(next -> holdNext(holding, now, next));
      holdTalk(holding, guidance);
    }
    return speak(now, guidance, holding, error, isBlind);
  }

  private Step speak(
      SessionTime now,
      Guidance guidance,
      List<Holding> holding,
      Optional<FlowError> error,
      boolean isBlind) {
    Set<Said> known = new HashSet<>(said);
    List<Cue> cues = new ArrayList<>();
    for (Holding cue : holding) {
      boolean guided = isGuided(cue.pour());
      if (settings.feedback().admits(cue.what().kind(), cue.outside(), guided)
          && known.add(cue.what())) {
        cues.add(new Cue(cue.what().kind(), now, cue.pour(), cue.say()));
      }
    }
    // What can happen again is forgotten when it is over.
    known.removeIf(
        past ->
            switch (past.kind()) {
              case SLOWER, FASTER -> error.filter(e -> e.cue() == past.kind()).isEmpty();
              case LINK_LOST -> !isBlind;
              case LINK_BACK -> isBlind;
              default -> false;
            });
    return new Step(
        new Coach(schedule, settings, seesWater, progress, known, error), guidance, cues);
  }

  private boolean isGuided(OptionalInt pour) {
    return pour.isEmpty() || Feedback.isGuided(settings.fadedRun(), pour.getAsInt());
  }

  private void holdLink(List<Holding> holding, boolean isBlind) {
    if (isBlind) {
      hold(holding, Kind.LINK_LOST, 0, true, OptionalInt.empty(), "scale lost");
    } else if (said.contains(new Said(Kind.LINK_LOST, 0))) {
      hold(holding, Kind.LINK_BACK, 0, true, OptionalInt.empty(), "scale is back");
    }
  }

  private void holdPoured(List<Holding> holding) {
    Optional<MadePour> last = progress.lastMade();
    if (last.isEmpty() || progress.runningSince().isPresent()) {
      return;
    }
    OptionalInt planned =
        progress
            .lastMatch()
            .map(link -> OptionalInt.of(link.lastPlanned()))
            .orElse(OptionalInt.empty());
    Mass error = planned.isPresent() ? progress.lacking().negated() : last.get().poured();
    boolean outside = error.abs().compareTo(tolerance().mass()) > 0;
    String how =
        planned.isEmpty()
            ? grams(error) + " that were not planned"
            : "pour "
                + planned.getAsInt()
                + ": "
                + grams(error.abs())
                + (error.isNegative() ? " too little" : " too much");
    if (seesWater) {
      hold(holding, Kind.POURED, last.get().index(), outside, planned, how);
    }
    if (progress.isAllPoured()) {
      hold(holding, Kind.DONE, 0, false, OptionalInt.empty(), "all poured");
    }
  }

  private void holdPour(
      List<Holding> holding,
      SessionTime now,
      Turn turn,
      Guidance guidance,
      Optional<FlowError> error) {
    OptionalInt pour = OptionalInt.of(turn.planned());
    // Cues are once for each made pour, so that every piece of a split pour has its own.
    int made = progress.routine().made().size() + 1;
    if (guidance.toGo().isEmpty() || guidance.flow().isEmpty()) {
      return;
    }
    double flow = Math.max(0, guidance.flow().get().gramsPerSecond());
    double toGo = guidance.toGo().get().grams();
    boolean outside = -toGo > tolerance().mass().grams();
    if (toGo <= 0) {
      hold(holding, Kind.STOP, made, outside, pour, "stop");
    } else if (toGo <= flow * settings.easeOffSeconds()) {
      hold(holding, Kind.EASE_OFF, made, false, pour, "ease off");
    } else {
      error
          .filter(wrong -> now.secondsSince(wrong.since()) >= FLOW_PATIENCE_SECONDS)
          .ifPresent(
              wrong ->
                  hold(
                      holding,
                      wrong.cue(),
                      0,
                      true,
                      pour,
                      wrong.cue() == Kind.SLOWER ? "slower" : "faster"));
    }
  }

  private void holdNext(List<Holding> holding, SessionTime now, Next next) {
    if (next.due().isEmpty() || progress.runningSince().isPresent()) {
      return;
    }
    OptionalInt pour = OptionalInt.of(next.pour());
    double until = next.due().get().secondsSince(now);
    double late = tolerance().start().toNanos() / 1e9;
    // A bed may be known to be dry only some seconds after it was: "pour" still comes before
    // "late".
    boolean startToCome =
        !said.contains(new Said(Kind.START, next.pour()))
            && settings.feedback().admits(Kind.START, false, isGuided(pour));
    if (-until > late && !startToCome) {
      hold(holding, Kind.LATE, next.pour(), true, pour, "pour " + next.pour() + " is late");
    } else if (until <= settings.reactionSeconds()) {
      hold(holding, Kind.START, next.pour(), false, pour, "pour " + grams(next.add()));
    } else if (until <= settings.getReadySeconds()) {
      hold(
          holding,
          Kind.GET_READY,
          next.pour(),
          false,
          pour,
          "get ready: pour " + next.pour() + ", " + grams(next.add()));
    }
  }

  private void holdTalk(List<Holding> holding, Guidance guidance) {
    List<TalkMark> marks = schedule.plan().talk();
    for (int i = 0; i < marks.size() && guidance.planClock().isPresent(); i++) {
      double since = guidance.planClock().get().secondsSince(marks.get(i).at());
      if (since >= 0 && since < TALK_STALE_SECONDS) {
        hold(holding, Kind.TALK, i, false, OptionalInt.empty(), marks.get(i).say());
      }
    }
  }

  private static void hold(
      List<Holding> holding, Kind kind, int number, boolean outside, OptionalInt pour, String say) {
    holding.add(new Holding(new Said(kind, number), outside, pour, say));
  }

  private Guidance guidance(SessionTime now, Optional<Turn> turn, Optional<Outlook> outlook) {
    Optional<PlannedPour> planned = turn.map(running -> schedule.slot(running.planned()).pour());
    Optional<Mass> toGo = Optional.empty();
    Optional<Mass> ahead = Optional.empty();
    Optional<Flow> flow = Optional.empty();
    if (seesWater && turn.isPresent() && planned.isPresent() && outlook.isPresent()) {
      Outlook seen = outlook.get();
      flow = Optional.of(seen.flow());
      toGo = Optional.of(toGo(turn.get(), seen));
      ahead = Optional.of(ahead(turn.get(), planned.get(), seen));
    }
    Optional<Next> next = next(turn);
    return new Guidance(
        now,
        progress.clockZero().map(zero -> SessionTime.ZERO.plus(now.since(zero))),
        turn.map(running -> OptionalInt.of(running.planned())).orElse(OptionalInt.empty()),
        toGo,
        ahead,
        flow,
        planned.map(PlannedPour::flow),
        next,
        isShown(now, turn, toGo, ahead, next));
  }

  private Mass toGo(Turn turn, Outlook seen) {
    Mass landing = seen.landing().map(Outlook.Landing::inThisPour).orElse(seen.inThisPour());
    double reacting = Math.max(0, seen.flow().gramsPerSecond()) * settings.reactionSeconds();
    return turn.target().minus(landing).minus(Mass.ofGrams(reacting));
  }

  private static Mass ahead(Turn turn, PlannedPour planned, Outlook seen) {
    Mass poured = seen.inThisPour().plus(seen.flow().during(seen.lagSeconds()));
    Mass line = planned.flow().during(Math.max(0, seen.at().secondsSince(turn.start())));
    return poured.minus(line.compareTo(turn.target()) < 0 ? line : turn.target());
  }

  private Optional<Next> next(Optional<Turn> turn) {
    int index = Math.max(progress.nextPlanned(), turn.map(t -> t.planned() + 1).orElse(1));
    if (index > schedule.slots().size() || progress.lifted()) {
      return Optional.empty();
    }
    PlannedPour pour = schedule.slot(index).pour();
    Optional<SessionTime> due = progress.dueOf(index);
    Reason reason;
    if (progress.firstWater().isEmpty()) {
      return Optional.of(new Next(index, pour.add(), Optional.empty(), Reason.FIRST));
    } else if (pour.start() instanceof Start.AtClock) {
      reason = Reason.CLOCK;
    } else if (pour.start() instanceof Start.AfterEnd) {
      reason = Reason.GAP;
      due = turn.isPresent() ? Optional.empty() : due;
    } else {
      boolean dry =
          turn.isEmpty()
              && progress
                  .lastMade()
                  .filter(made -> progress.routine().drainedAfter().containsKey(made.index()))
                  .isPresent();
      reason = dry ? Reason.DRAINED : Reason.DRAINED_EXPECTED;
    }
    return Optional.of(new Next(index, pour.add(), due, reason));
  }

  private boolean isShown(
      SessionTime now,
      Optional<Turn> turn,
      Optional<Mass> toGo,
      Optional<Mass> ahead,
      Optional<Next> next) {
    boolean over =
        toGo.filter(mass -> mass.compareTo(tolerance().mass().negated()) < 0).isPresent();
    boolean off = ahead.filter(mass -> mass.abs().compareTo(tolerance().mass()) > 0).isPresent();
    boolean late =
        turn.isEmpty()
            && next.flatMap(Next::due)
                .filter(due -> now.since(due).compareTo(tolerance().start()) > 0)
                .isPresent();
    OptionalInt pour =
        turn.map(Turn::planned)
            .or(() -> next.map(Next::pour))
            .map(OptionalInt::of)
            .orElse(OptionalInt.empty());
    return settings.feedback().shows(over || off || late, isGuided(pour));
  }

  private Optional<FlowError> flowError(SessionTime now, Optional<Turn> turn, Guidance guidance) {
    if (turn.isEmpty()
        || guidance.flow().isEmpty()
        || guidance.wantedFlow().isEmpty()
        || now.secondsSince(turn.get().start()) < FLOW_SETTLES_SECONDS) {
      return Optional.empty();
    }
    long error = guidance.flow().get().minus(guidance.wantedFlow().get()).nanogramsPerSecond();
    if (Math.abs(error) <= tolerance().flow().nanogramsPerSecond()) {
      return Optional.empty();
    }
    Kind cue = error > 0 ? Kind.SLOWER : Kind.FASTER;
    return flowError
        .filter(before -> before.cue() == cue)
        .or(() -> Optional.of(new FlowError(cue, now)));
  }

  private Tolerance tolerance() {
    return schedule.plan().tolerance();
  }

  private static String grams(Mass mass) {
    return String.format(Locale.ROOT, "%.1f g", mass.grams()).replace(".0 g", " g");
  }
}
