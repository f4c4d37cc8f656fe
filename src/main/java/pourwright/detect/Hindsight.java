package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** The second pass over a finished recording. */
public final class Hindsight {
  /** A weight that was off is given so long to be itself again before it is trusted (s). */
  private static final double AFTER_DISTURBANCE = 0.1;

  private Hindsight() {}

  /**
   * Best estimates of what happened.
   *
   * @param curves the whole recording, one curve for each place of the rig
   * @param announced what the live detector said of it
   */
  public static Findings of(
      Rig rig, DetectorSettings settings, List<Curve> curves, List<PourEvent> announced) {
    Optional<Curve> whole =
        curves.stream()
            .filter(curve -> curve.place() == Place.WHOLE && curve.size() > 0)
            .findFirst();
    List<Findings.Gap> gaps = new ArrayList<>();
    List<Disturbance> disturbances = new ArrayList<>();
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.ReadingsMissed missed) {
        gaps.add(new Findings.Gap(missed.place(), missed.at(), missed.knownAt()));
      } else if (event instanceof PourEvent.Disturbed disturbed) {
        disturbances.add(new Disturbance(disturbed.at(), disturbed.until(), disturbed.kind()));
      }
    }
    if (whole.isEmpty()) {
      return new Findings(
          rig, List.of(), List.of(), Optional.empty(), disturbances, gaps, List.of());
    }
    Track track = new Track(whole.get());
    List<PourRefiner.Step> steps = steps(announced, track);
    Optional<LiftFit.Lift> rough = LiftFit.find(track, announced);
    double liftAt = rough.map(LiftFit.Lift::at).orElse(Double.POSITIVE_INFINITY);
    List<Findings.Gap> wholeGaps = gaps.stream().filter(gap -> gap.place() == Place.WHOLE).toList();
    OptionalDouble given = settings.lagSeconds(Place.WHOLE);
    Optional<Kernel> kernel =
        given.isPresent()
            ? Optional.of(Kernel.Kind.ONE_STAGE.of(given.getAsDouble()))
            : LagFinder.find(track, bigSteps(announced, track, rough), tares(announced, track));
    PourRefiner refiner = new PourRefiner(track, kernel, steps, wholeGaps, liftAt);
    List<Candidate> candidates =
        Candidate.of(announced, track).stream().filter(c -> c.start() < liftAt - 0.5).toList();
    List<Findings.Pour> pours = refiner.refine(candidates);
    Optional<LiftFit.Lift> lift =
        rough.map(found -> LiftFit.refined(track, found, refiner.kernel()));
    return new Findings(
        rig,
        pours,
        bounded(pours, track, lift),
        lift.map(
            found ->
                new Findings.Lift(
                    track.moment(found.at()), Mass.ofGrams(found.removed()), Optional.empty())),
        disturbances,
        gaps,
        List.of());
  }

  private static List<Double> tares(List<PourEvent> announced, Track track) {
    return announced.stream()
        .filter(PourEvent.Tared.class::isInstance)
        .map(event -> track.seconds(event.at()))
        .toList();
  }

  private static List<Double> bigSteps(
      List<PourEvent> announced, Track track, Optional<LiftFit.Lift> lift) {
    List<Double> moments = new ArrayList<>();
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.Disturbed disturbed
          && (disturbed.kind() == Disturbance.Kind.OBJECT_PLACED
              || disturbed.kind() == Disturbance.Kind.OBJECT_REMOVED)) {
        moments.add(track.seconds(disturbed.at()));
      }
    }
    lift.ifPresent(found -> moments.add(found.at()));
    return moments;
  }

  /** Masks what was disturbed and measures by how much the display was moved without water. */
  private static List<PourRefiner.Step> steps(List<PourEvent> announced, Track track) {
    List<PourRefiner.Step> steps = new ArrayList<>();
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.Disturbed disturbed) {
        double from = track.seconds(disturbed.at());
        double to = track.seconds(disturbed.until()) + AFTER_DISTURBANCE;
        track.mask(from - 0.1, to);
        if (disturbed.kind() == Disturbance.Kind.OBJECT_PLACED
            || disturbed.kind() == Disturbance.Kind.OBJECT_REMOVED) {
          steps.add(measured(track, from, to));
        }
      } else if (event instanceof PourEvent.Tared tared && tared.place() == Place.WHOLE) {
        double from = track.seconds(tared.at());
        track.mask(from - 0.3, from + 0.1);
        steps.add(new PourRefiner.Step(from - 1e-3, from, -tared.taken().grams()));
      }
    }
    return steps;
  }

  /** The jump between the lines before and after, with what flowed meanwhile taken off. */
  private static PourRefiner.Step measured(Track track, double from, double to) {
    Track.Line before = track.line(from - 0.8, from);
    Track.Line after = track.line(to, to + 0.8);
    if (before.readings() < 2 || after.readings() < 2) {
      return new PourRefiner.Step(from, to, 0);
    }
    double middle = (from + to) / 2;
    return new PourRefiner.Step(from, to, after.at(middle) - before.at(middle));
  }

  private static List<Findings.Drawdown> bounded(
      List<Findings.Pour> pours, Track track, Optional<LiftFit.Lift> lift) {
    List<Findings.Drawdown> drawdowns = new ArrayList<>();
    for (int i = 0; i < pours.size(); i++) {
      Findings.Pour pour = pours.get(i);
      Optional<SessionTime> by =
          i + 1 < pours.size()
              ? Optional.of(pours.get(i + 1).start())
              : lift.map(found -> track.moment(found.at()));
      by.ifPresent(
          drained ->
              drawdowns.add(
                  new Findings.Drawdown(pour.index(), pour.end(), drained, Basis.BOUNDED)));
    }
    return drawdowns;
  }
}
