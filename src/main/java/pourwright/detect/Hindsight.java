package pourwright.detect;

import java.util.ArrayList;
import java.util.Collections;
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

  /** The finger on the button presses a little earlier than the zero comes (s). */
  private static final double BEFORE_TARE = 0.35;

  /** A hand is at the server so long before it is taken away, and lines are fitted so far (s). */
  private static final double BEFORE_LIFT = 0.6;

  /** Water that a dose keeps, by its mass; common practice, no source. */
  static final double KEPT_PER_DOSE = 2.0;

  /** Lag of a scale of which nothing is known (s). */
  private static final double USUAL_LAG = 0.1;

  private Hindsight() {}

  /**
   * Best estimates of what happened.
   *
   * @param curves the whole recording, one curve for each place of the rig
   * @param announced what the live detector said of it
   */
  public static Findings of(
      Rig rig, DetectorSettings settings, List<Curve> curves, List<PourEvent> announced) {
    List<Findings.Gap> gaps = new ArrayList<>();
    List<Disturbance> disturbances = new ArrayList<>();
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.ReadingsMissed missed) {
        gaps.add(new Findings.Gap(missed.place(), missed.at(), missed.knownAt()));
      } else if (event instanceof PourEvent.Disturbed disturbed) {
        disturbances.add(new Disturbance(disturbed.at(), disturbed.until(), disturbed.kind()));
      }
    }
    Optional<Track> whole = track(curves, Place.WHOLE);
    Optional<Track> server = track(curves, Place.SERVER);
    Found found =
        whole
            .map(track -> seenLanding(settings, track, server, gaps, announced))
            .or(() -> server.map(track -> seenRunningOut(settings, track, announced)))
            .orElseGet(
                () -> new Found(List.of(), List.of(), Optional.empty(), OptionalDouble.empty()));
    Findings bare =
        new Findings(
            rig, found.pours(), found.drawdowns(), found.lift(), disturbances, gaps, List.of());
    return bare.withWarnings(Remarks.of(whole, server, found.lag(), bare));
  }

  /**
   * @param lag of the leading scale (s); empty where it is only a guess
   */
  private record Found(
      List<Findings.Pour> pours,
      List<Findings.Drawdown> drawdowns,
      Optional<Findings.Lift> lift,
      OptionalDouble lag) {}

  private static Optional<Track> track(List<Curve> curves, Place place) {
    return curves.stream()
        .filter(curve -> curve.place() == place && curve.size() > 0)
        .findFirst()
        .map(Track::new);
  }

  /** On a scale under everything the water itself is weighed. */
  private static Found seenLanding(
      DetectorSettings settings,
      Track track,
      Optional<Track> server,
      List<Findings.Gap> gaps,
      List<PourEvent> said) {
    List<PourEvent> announced = TareFit.measured(said, track);
    List<PourRefiner.Step> steps = steps(announced, track, Place.WHOLE);
    Optional<LiftFit.Lift> rough = LiftFit.find(settings, track, announced);
    double liftAt = rough.map(LiftFit.Lift::at).orElse(Double.POSITIVE_INFINITY);
    OptionalDouble given = settings.lagSeconds(Place.WHOLE);
    Optional<Kernel> kernel =
        given.isPresent()
            ? Optional.of(Kernel.Kind.ONE_STAGE.of(given.getAsDouble()))
            : LagFinder.find(track, bigSteps(announced, track, rough), tares(announced, track));
    List<Findings.Gap> wholeGaps = gaps.stream().filter(gap -> gap.place() == Place.WHOLE).toList();
    PourRefiner refiner = new PourRefiner(track, kernel, steps, wholeGaps, liftAt);
    List<Candidate> candidates =
        Candidate.brewed(announced, track).stream().filter(c -> c.start() < liftAt - 0.5).toList();
    List<Findings.Pour> pours =
        refiner.refine(SetUp.of(settings, track, announced).pouredAfter(candidates));
    Optional<LiftFit.Lift> lift =
        rough.map(found -> LiftFit.refined(track, found, kernel.orElse(refiner.kernel())));
    Optional<SessionTime> liftMoment = lift.map(found -> track.moment(found.at()));
    double serverLag = settings.lagSeconds(Place.SERVER).orElse(refiner.kernel().lag());
    return new Found(
        pours,
        server.isPresent()
            ? measured(
                pours,
                server.get(),
                new Outflow(server.get(), List.of()),
                serverLag,
                kept(settings),
                liftMoment)
            : bounded(pours, liftMoment),
        lift.map(
            found ->
                new Findings.Lift(
                    track.moment(found.at()),
                    Mass.ofGrams(found.removed()),
                    Beverage.find(settings, track, announced, pours, found))),
        kernel.isPresent() ? OptionalDouble.of(kernel.get().lag()) : OptionalDouble.empty());
  }

  /** Under the server alone, pours are inferred from what runs out. */
  private static Found seenRunningOut(
      DetectorSettings settings, Track track, List<PourEvent> announced) {
    Outflow outflow = new Outflow(track, steps(announced, track, Place.SERVER));
    Optional<SessionTime> away =
        LiftFit.find(settings, track, announced)
            .map(lift -> track.moment(Math.max(0, lift.at() - BEFORE_LIFT)));
    double until = away.map(track::seconds).orElse(track.last());
    OutflowPours inferred = new OutflowPours(track, outflow, until);
    List<Candidate> found = inferred.fitted(Candidate.brewed(announced, track));
    List<Findings.Pour> bare = pours(inferred, found, Collections.nCopies(found.size(), 0.0));
    double lag = settings.lagSeconds(Place.SERVER).orElse(USUAL_LAG);
    List<Findings.Drawdown> drawdowns = measured(bare, track, outflow, lag, 0, away);
    List<Optional<Double>> dry =
        bare.stream()
            .map(
                pour ->
                    drawdowns.stream()
                        .filter(down -> down.afterPour() == pour.index())
                        .filter(down -> down.basis() == Basis.MEASURED)
                        .map(down -> track.seconds(down.end()) + lag)
                        .findFirst())
            .toList();
    return new Found(
        pours(inferred, found, inferred.water(found, dry, kept(settings))),
        drawdowns,
        Optional.empty(),
        settings.lagSeconds(Place.SERVER));
  }

  private static List<Findings.Pour> pours(
      OutflowPours inferred, List<Candidate> found, List<Double> water) {
    List<Findings.Pour> pours = new ArrayList<>();
    for (int i = 0; i < found.size(); i++) {
      pours.add(inferred.pour(i + 1, found.get(i), water.get(i)));
    }
    return pours;
  }

  /** Water that the grounds keep (g); 0 where the dose is not known. */
  private static double kept(DetectorSettings settings) {
    return KEPT_PER_DOSE * settings.dose().map(Mass::grams).orElse(0.0);
  }

  /**
   * When the bed was dry after each pour, as the server tells it.
   *
   * @param kept water that the grounds keep (g)
   */
  private static List<Findings.Drawdown> measured(
      List<Findings.Pour> pours,
      Track server,
      Outflow outflow,
      double lag,
      double kept,
      Optional<SessionTime> lift) {
    List<Findings.Drawdown> bounded = bounded(pours, lift);
    List<Findings.Drawdown> drawdowns = new ArrayList<>();
    double water = 0;
    for (int i = 0; i < pours.size(); i++) {
      Findings.Pour pour = pours.get(i);
      water += pour.poured().grams();
      double from = server.seconds(pour.end());
      double to =
          i + 1 < pours.size()
              ? server.seconds(pours.get(i + 1).start())
              : lift.map(server::seconds).orElse(server.last());
      Optional<Double> drained = outflow.findDrained(from, to + lag, water < kept);
      if (drained.isPresent()) {
        SessionTime end = server.moment(Math.max(from, drained.get() - lag));
        drawdowns.add(new Findings.Drawdown(pour.index(), pour.end(), end, Basis.MEASURED));
      } else {
        bounded.stream()
            .filter(drawdown -> drawdown.afterPour() == pour.index())
            .forEach(drawdowns::add);
      }
    }
    return drawdowns;
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
  private static List<PourRefiner.Step> steps(List<PourEvent> announced, Track track, Place place) {
    List<PourRefiner.Step> steps = new ArrayList<>();
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.Disturbed disturbed) {
        double from = track.seconds(disturbed.at());
        double to = track.seconds(disturbed.until()) + AFTER_DISTURBANCE;
        track.mask(from - 0.1, to);
        if (disturbed.kind() == Disturbance.Kind.OBJECT_PLACED
            || disturbed.kind() == Disturbance.Kind.OBJECT_REMOVED) {
          steps.add(measured(track, from, to, takenWithin(announced, track, from - 0.3, to + 0.3)));
        }
      } else if (event instanceof PourEvent.Tared tared && tared.place() == place) {
        double from = track.seconds(tared.at());
        track.mask(from - BEFORE_TARE, from + AFTER_DISTURBANCE);
        steps.add(new PourRefiner.Step(from - 1e-3, from, -tared.taken().grams(), false));
      }
    }
    return steps;
  }

  /** A tare in the midst of a disturbance is a step of its own. */
  private static double takenWithin(
      List<PourEvent> announced, Track track, double from, double to) {
    double sum = 0;
    for (PourEvent event : announced) {
      if (event instanceof PourEvent.Tared tared
          && track.seconds(tared.at()) >= from
          && track.seconds(tared.at()) <= to) {
        sum += tared.taken().grams();
      }
    }
    return sum;
  }

  /** The jump between the lines before and after, with what flowed meanwhile taken off. */
  private static PourRefiner.Step measured(Track track, double from, double to, double taken) {
    Track.Line before = track.line(from - 0.8, from);
    Track.Line after = track.line(to, to + 0.8);
    if (before.readings() < 2 || after.readings() < 2) {
      return new PourRefiner.Step(from, to, 0, true);
    }
    double middle = (from + to) / 2;
    return new PourRefiner.Step(from, to, after.at(middle) - before.at(middle) + taken, true);
  }

  private static List<Findings.Drawdown> bounded(
      List<Findings.Pour> pours, Optional<SessionTime> lift) {
    List<Findings.Drawdown> drawdowns = new ArrayList<>();
    for (int i = 0; i < pours.size(); i++) {
      Findings.Pour pour = pours.get(i);
      Optional<SessionTime> by =
          i + 1 < pours.size() ? Optional.of(pours.get(i + 1).start()) : lift;
      by.ifPresent(
          drained ->
              drawdowns.add(
                  new Findings.Drawdown(pour.index(), pour.end(), drained, Basis.BOUNDED)));
    }
    return drawdowns;
  }
}
