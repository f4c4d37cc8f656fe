package pourwright.review;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import pourwright.coach.Feedback;
import pourwright.compare.Comparator;
import pourwright.compare.Comparison;
import pourwright.compare.MadePour;
import pourwright.compare.PouredCurve;
import pourwright.compare.Routine;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Schedule;
import pourwright.plan.Start;
import pourwright.plan.Tolerance;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** Made-up runs of one plan: three pours of 80 g at 5 g/s, at 0, 45 and 90 s. */
public final class Rehearsals {
  private static final Instant FIRST = Instant.parse("2026-11-02T17:00:00Z");
  public static final double FLOW = 5;
  public static final double GRAMS = 80;
  private static final double EVERY_SECONDS = 45;

  private Rehearsals() {}

  /** How far a pour was off: water (g), start (s), flow (g/s). */
  public record Off(double grams, double seconds, double gramsPerSecond) {
    public static final Off NOT = new Off(0, 0, 0);
  }

  public static Plan plan(String title) {
    List<PlannedPour> pours = new ArrayList<>();
    for (int pour = 1; pour <= 3; pour++) {
      pours.add(
          new PlannedPour(
              pour,
              Mass.ofGrams(GRAMS),
              Flow.ofGramsPerSecond(FLOW),
              new Start.AtClock(SessionTime.ofSeconds((pour - 1) * EVERY_SECONDS))));
    }
    return new Plan(
        title,
        Mass.ofGrams(15),
        Mass.ofGrams(3 * GRAMS),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Rig.WHOLE,
        Optional.empty(),
        Optional.empty(),
        Tolerance.COMMON,
        pours,
        List.of());
  }

  /** A run in which each pour was off by so much; the first starts the clock whatever it says. */
  public static Run run(long id, Feedback feedback, Off... offs) {
    return run(id, plan("Test plan"), feedback, false, Run.Cup.NONE, Map.of(), List.of(offs));
  }

  public static Run run(
      long id,
      Plan plan,
      Feedback feedback,
      boolean isSimulated,
      Run.Cup cup,
      Map<Integer, Mass> estimates,
      List<Off> offs) {
    List<MadePour> made = new ArrayList<>();
    for (int i = 0; i < offs.size(); i++) {
      Off off = offs.get(i);
      double start = 3 + i * EVERY_SECONDS + (i == 0 ? 0 : off.seconds());
      double flow = FLOW + off.gramsPerSecond();
      double grams = GRAMS + off.grams();
      made.add(
          new MadePour(
              i + 1,
              SessionTime.ofSeconds(start),
              SessionTime.ofSeconds(start + grams / flow),
              Mass.ofGrams(grams),
              Flow.ofGramsPerSecond(flow)));
    }
    Comparison comparison =
        Comparator.compare(new Routine(Schedule.of(plan), made, Map.of()), PouredCurve.NONE);
    return new Run(
        id,
        FIRST.plus(Duration.ofHours(7 * id)),
        "Ada",
        plan,
        feedback,
        isSimulated,
        comparison,
        estimates,
        cup,
        "");
  }

  /** A season that gets better, late in pour 3, with blind runs and cups. */
  public static List<Run> season(long seed, int runs) {
    Random random = new Random(seed);
    List<Run> season = new ArrayList<>();
    for (int i = 0; i < runs; i++) {
      double clumsy = 1.6 - 1.1 * i / runs;
      Feedback feedback =
          i % 5 == 4 ? Feedback.BLIND : i % 3 == 1 ? Feedback.BANDWIDTH : Feedback.FULL;
      double harder = feedback == Feedback.BLIND ? 1.5 : 1;
      List<Off> offs = new ArrayList<>();
      Map<Integer, Mass> guesses = new HashMap<>();
      double over = 0;
      for (int pour = 1; pour <= 3; pour++) {
        double grams = harder * clumsy * random.nextGaussian() + 0.4;
        over += grams;
        offs.add(
            new Off(
                grams,
                harder * (clumsy * random.nextGaussian() * 0.8 + (pour == 3 ? 1.6 : 0.2)),
                0.4 * clumsy * random.nextGaussian()));
        if (feedback == Feedback.BLIND) {
          guesses.put(pour, Mass.ofGrams(GRAMS + grams - 0.8 + 1.2 * random.nextGaussian()));
        }
      }
      double strength = 1.34 - 0.012 * over + 0.02 * random.nextGaussian();
      Run.Cup cup =
          i % 2 == 0
              ? Run.Cup.NONE
              : new Run.Cup(
                  Optional.of(Mass.ofGrams(208 + over)),
                  List.of(
                      new Run.StrengthReading(strength, OptionalDouble.of(0.03)),
                      new Run.StrengthReading(strength + 0.01, OptionalDouble.of(0.03))),
                  i % 4 == 1
                      ? List.of(
                          new Run.Tasting(
                              Map.of(
                                  "acidity",
                                  7 + random.nextGaussian() * 0.5,
                                  "balance",
                                  6.5 + random.nextGaussian())))
                      : List.of());
      season.add(run(i + 1L, plan("Regional heat"), feedback, true, cup, guesses, offs));
    }
    return season;
  }
}
