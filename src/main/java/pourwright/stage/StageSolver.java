package pourwright.stage;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.function.Predicate;

/** Plans a routine to proven optimality where the time given allows. */
public final class StageSolver {

  private StageSolver() {}

  /**
   * The best timetable, or what stands in its way.
   *
   * @param patience for the search, shared by the wishes; when it runs out, the best found so far
   *     comes with the gap
   */
  public static Outcome solve(Routine routine, Patience patience) {
    Work work = Work.of(routine);
    List<Rule> rules = rulesOf(work);
    Optional<Outcome> soonest = soonest(work, rules, patience);
    if (soonest.isPresent()) {
      return soonest.get();
    }
    int parts = Wish.values().length + 1;
    StageModel.Answer punctual = StageModel.punctual(work, rules).any(patience.share(parts));
    if (punctual.timetable().isPresent()) {
      return better(StageModel::punctual, work, rules, punctual.timetable().get(), patience);
    }
    StageModel.Answer free = StageModel.free(work, rules).any(patience.share(parts));
    if (free.timetable().isEmpty()) {
      return free.isComplete() ? explain(work, rules, patience) : new Outcome.Undecided();
    }
    return better(StageModel::free, work, rules, free.timetable().get(), patience);
  }

  /**
   * The timetable in which every pour is punctual, all cups are served in one go, and the last
   * dripper comes off as early as can be. Where there is one, none is better: it has the least that
   * there can be of the first two wishes, and what follows the last lift takes as long in each.
   */
  private static Optional<Outcome> soonest(Work work, List<Rule> rules, Patience patience) {
    if (!work.canBePunctual()) {
      return Optional.empty();
    }
    int after = work.leastAfterLifts();
    int endBy = work.routine.endBySeconds() - after;
    return FirstPours.soonest(work, rules, endBy, patience.share(2), patience)
        .flatMap(first -> laidOut(work, rules, first, after));
  }

  private static Optional<Outcome> laidOut(
      Work work, List<Rule> rules, FirstPours.Answer first, int after) {
    return Gaps.findStarts(
            work, rules, first.seconds().stream().mapToInt(Integer::intValue).toArray())
        .flatMap(
            starts -> {
              work.serveTogether(starts);
              return StageModel.punctual(work, rules)
                  .withStarts(starts)
                  .atMost(Wish.TOGETHER, work.leastApart())
                  .any(Patience.ENDLESS) // everything is given: one look decides
                  .timetable()
                  .map(table -> Moves.with(table, starts));
            })
        .map(
            table ->
                new Outcome.Planned(
                    table,
                    first.leastEnd() + after < table.endSeconds()
                        ? Optional.of(
                            new Outcome.Gap(
                                Wish.SHORT, table.endSeconds(), first.leastEnd() + after))
                        : Optional.empty()));
  }

  /** Improves a timetable, wish by wish. */
  private static Outcome better(
      BiFunction<Work, List<Rule>, StageModel> form,
      Work work,
      List<Rule> rules,
      Timetable first,
      Patience patience) {
    Timetable best = first;
    Optional<Outcome.Gap> gap = Optional.empty();
    int wishesLeft = Wish.values().length;
    for (Wish wish : Wish.values()) {
      Patience share = patience.share(wishesLeft);
      wishesLeft--;
      int bound = accepting(form.apply(work, rules), best, wish).atLeast(wish);
      boolean isFirstTry = true;
      while (bound < best.seconds(wish)) {
        // the bound itself is often reached; then the middle halves what is open
        int aim = isFirstTry ? bound : (bound + best.seconds(wish)) / 2;
        isFirstTry = false;
        StageModel.Answer answer =
            accepting(form.apply(work, rules), best, wish).atMost(wish, aim).any(share);
        if (answer.timetable().isPresent()) {
          best = answer.timetable().get();
        } else if (answer.isComplete()) {
          bound = aim + 1;
        } else {
          break;
        }
      }
      if (bound < best.seconds(wish) && gap.isEmpty()) {
        gap = Optional.of(new Outcome.Gap(wish, best.seconds(wish), bound));
      }
    }
    return new Outcome.Planned(Moves.between(best, work), gap);
  }

  /** Makes a model accept nothing that is worse than {@code best} in the wishes before this one. */
  private static StageModel accepting(StageModel model, Timetable best, Wish wish) {
    for (Wish earlier : Wish.values()) {
      if (earlier.compareTo(wish) < 0) {
        model.atMost(earlier, best.seconds(earlier));
      }
    }
    return model;
  }

  /**
   * A smallest clash by deletion: each rule is left out in turn, and stays out when the rest still
   * cannot be kept. What remains needs every one of its members.
   */
  private static Outcome explain(Work work, List<Rule> rules, Patience patience) {
    List<Rule> clash = new ArrayList<>(rules);
    boolean isMinimal = true;
    // rules of the same kind go out together first: it halves the work when they play no part
    for (Class<?> kind :
        List.of(
            Rule.ServedTogether.class,
            Rule.LeftToRight.class,
            Rule.SpeakInTime.class,
            Rule.KettleSuffices.class,
            Rule.LiftInTime.class)) {
      Predicate<Rule> isKind = kind::isInstance;
      if (clash.stream().anyMatch(isKind)) {
        List<Rule> rest = clash.stream().filter(isKind.negate()).toList();
        if (isImpossible(work, rest, patience.share(4)) == Verdict.YES) {
          clash = new ArrayList<>(rest);
        }
      }
    }
    for (Rule rule : List.copyOf(clash)) {
      List<Rule> rest = clash.stream().filter(other -> other != rule).toList();
      switch (isImpossible(work, rest, patience.share(4))) {
        case YES -> clash = new ArrayList<>(rest);
        case UNKNOWN -> isMinimal = false;
        case NO -> {}
      }
    }
    return new Outcome.Impossible(clash, isMinimal);
  }

  private enum Verdict {
    YES,
    NO,
    UNKNOWN
  }

  private static Verdict isImpossible(Work work, List<Rule> rules, Patience patience) {
    StageModel.Answer answer = StageModel.free(work, rules).any(patience);
    if (answer.timetable().isPresent()) {
      return Verdict.NO;
    }
    return answer.isComplete() ? Verdict.YES : Verdict.UNKNOWN;
  }

  static List<Rule> rulesOf(Work work) {
    Routine routine = work.routine;
    List<Rule> rules = new ArrayList<>();
    rules.add(new Rule.EndInTime(routine.limitSeconds(), routine.reserveSeconds()));
    for (int station = 0; station < routine.stations().size(); station++) {
      String name = routine.stations().get(station).name();
      for (Job job : work.chains.get(station)) {
        if (job.chore() == Chore.POUR && job.pour() > 1) {
          rules.add(new Rule.PourInTime(station, job.pour(), pourWords(work, job, name)));
        } else if (job.chore() == Chore.LIFT) {
          rules.add(
              new Rule.LiftInTime(
                  station,
                  name
                      + ": the dripper comes off within "
                      + routine.patienceSeconds()
                      + " s of draining"));
        }
      }
    }
    for (int i = 0; i < routine.speeches().size(); i++) {
      Speech speech = routine.speeches().get(i);
      rules.add(
          new Rule.SpeakInTime(
              i,
              "\"%s\" takes %d s and begins between %s and %s"
                  .formatted(
                      speech.say(),
                      speech.seconds(),
                      Clock.words(speech.earliest()),
                      Clock.words(speech.latest()))));
    }
    if (work.jobs.stream().mapToInt(Job::grams).sum() > work.usableGrams()) {
      rules.add(
          new Rule.KettleSuffices(
              "the kettle gives "
                  + work.usableGrams()
                  + " g between refills, each "
                  + routine.kettle().refillSeconds()
                  + " s and "
                  + routine.kettle().reheatSeconds()
                  + " s to reheat"));
    }
    if (routine.leftToRight() && routine.stations().size() > 1) {
      rules.add(new Rule.LeftToRight());
    }
    if (routine.servedWithinSeconds() > 0 && routine.stations().size() > 1) {
      rules.add(new Rule.ServedTogether(routine.servedWithinSeconds()));
    }
    return rules;
  }

  private static String pourWords(Work work, Job pour, String name) {
    if (work.waitsForDrain(pour)) {
      return "%s: pour %d begins within %d s of draining"
          .formatted(name, pour.pour(), work.routine.patienceSeconds());
    }
    return "%s: pour %d begins within %d s of its planned moment"
        .formatted(name, pour.pour(), work.toleranceSeconds(pour.station()));
  }
}
