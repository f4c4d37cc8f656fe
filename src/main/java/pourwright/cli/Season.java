package pourwright.cli;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.function.IntConsumer;
import pourwright.coach.Feedback;
import pourwright.detect.Findings;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.device.replay.PlayedTransport;
import pourwright.device.simulated.SimulatedScale;
import pourwright.journal.JournalFile;
import pourwright.journal.Recording;
import pourwright.journal.StrengthReading;
import pourwright.journal.TasteItem;
import pourwright.journal.Tasting;
import pourwright.plan.Plan;
import pourwright.rig.Place;
import pourwright.session.Outcome;
import pourwright.session.PlacedScale;
import pourwright.session.Rehearsal;
import pourwright.session.RunStart;
import pourwright.session.Setup;
import pourwright.session.Stand;
import pourwright.simulate.Scenario;
import pourwright.simulate.Simulation;
import pourwright.simulate.Skill;
import pourwright.units.Mass;

/**
 * A season of a simulated brewer: six weeks from the first draft of a recipe to the week before the
 * stage, {@value #RUNS} rehearsals with ever less feedback, every fifth one blind, cups measured
 * and tasted. Every run goes through scale bytes, detector and comparison as a live one does.
 *
 * <p>How the hand improves and how the cup answers to the pours are choices that make a season like
 * those people have; no source.
 */
final class Season {
  static final int RUNS = 40;
  static final String BREWER = "Wren (simulated)";

  private static final int DRAFT_RUNS = 8;
  private static final int BLIND_EVERY = 5;
  private static final int VOID_RUN = 13;
  private static final Duration LENGTH = Duration.ofDays(42);
  private static final String PROFILE = "number-unit";

  private final JournalFile journal;
  private final PlanFile draft;
  private final PlanFile settled;
  private final Instant end;
  private final long seed;
  private final Profile profile;

  /**
   * @param end the day of the last run
   * @param seed the same seed makes the same season
   */
  Season(JournalFile journal, PlanFile draft, PlanFile settled, Instant end, long seed) {
    this.journal = journal;
    this.draft = draft;
    this.settled = settled;
    this.end = end;
    this.seed = seed;
    this.profile = Profiles.shipped().find(PROFILE).orElseThrow();
  }

  /**
   * Fills the journal; runs of this season that are in it already stay as they are.
   *
   * @param progress takes the number of runs that are there, after each
   */
  void fill(IntConsumer progress) throws IOException, InterruptedException {
    for (int number = 0; number < RUNS; number++) {
      String key = "simulated-season-" + seed + "-" + (number + 1);
      if (!journal.holds(key)) {
        rehearse(number, key);
      }
      progress.accept(number + 1);
    }
  }

  private void rehearse(int number, String key) throws IOException, InterruptedException {
    SplittableRandom chance = new SplittableRandom(seed * 1_000_003 + number);
    PlanFile plan = number < DRAFT_RUNS ? draft : settled;
    RunStart.HeardScale scale =
        new RunStart.HeardScale(
            new Stand(1, Place.WHOLE), "sim:season?seed=" + seed, profile.name());
    RunStart start =
        new RunStart(
            at(number),
            Main.Version.nameAndVersion(),
            true,
            feedback(number),
            journal.countFaded(BREWER, true),
            List.of(
                new RunStart.Lane(
                    1,
                    BREWER,
                    plan.plan().rig(),
                    Optional.of(new RunStart.WrittenPlan(plan.text(), plan.plan())),
                    List.of(scale))));
    Recording recording = journal.record(key);
    Rehearsal rehearsal =
        new Rehearsal(
            new Setup(
                start,
                List.of(Lanes.settings(plan.plan())),
                List.of(scale(scale, plan.plan(), scenario(number), chance.nextLong())),
                Setup.USUAL_IDLE_LIMIT),
            List.of(recording),
            List.of());
    Outcome outcome = rehearsal.run();
    if (!rehearsal.troubles().isEmpty()) {
      throw new IOException(rehearsal.troubles().get(0));
    }
    for (long run : recording.runs().values()) {
      comment(number, run, plan.plan(), outcome, chance);
    }
  }

  private PlacedScale scale(RunStart.HeardScale heard, Plan plan, Scenario scenario, long hand) {
    return new PlacedScale(
        heard.stand(),
        heard.address(),
        profile.name(),
        true,
        new PlayedTransport(
            new SimulatedScale(
                new Simulation(plan, scenario, plan.rig(), hand), heard.stand().place(), profile),
            0),
        profile.newDecoder(),
        profile.commands());
  }

  /** Late afternoons, most days one run. */
  private Instant at(int number) {
    long day = Math.round(LENGTH.toDays() * (number / (RUNS - 1.0)));
    return end.atZone(ZoneId.systemDefault())
        .toLocalDate()
        .minusDays(LENGTH.toDays() - day)
        .atTime(16, 20 + 7 * (number % 5))
        .atZone(ZoneId.systemDefault())
        .toInstant();
  }

  private static Feedback feedback(int number) {
    if (number % BLIND_EVERY == BLIND_EVERY - 1) {
      return Feedback.BLIND;
    }
    if (number < RUNS / 3) {
      return Feedback.FULL;
    }
    return number < RUNS * 3 / 5 ? Feedback.BANDWIDTH : Feedback.FADED;
  }

  /** Practice helps fast at first and slowly later; without the screen it goes a little worse. */
  private static Scenario scenario(int number) {
    double learned = 1 - Math.exp(-number / 11.0);
    double today = feedback(number) == Feedback.BLIND ? learned - 0.15 : learned;
    return Scenario.findByName("bench")
        .orElseThrow()
        .withSkill(Skill.between(Skill.LEARNING, Skill.SKILLED, Math.max(0, 0.95 * today)));
  }

  private void comment(int number, long run, Plan plan, Outcome outcome, SplittableRandom chance)
      throws IOException {
    Findings findings = outcome.lanes().get(0).analysis().findings();
    if (feedback(number) == Feedback.BLIND) {
      for (Findings.Pour pour : findings.pours()) {
        double off =
            (3.5 - 2.5 * number / RUNS) * chance.nextGaussian() + 1.0 - 1.0 * number / RUNS;
        journal.estimate(
            run, pour.index(), Mass.ofGrams(Math.max(1, Math.rint(pour.poured().grams() + off))));
      }
    }
    if (number == VOID_RUN) {
      journal.setVoid(run, true);
      journal.note(run, "kettle ran dry in the third pour; does not count");
      return;
    }
    if (number % 3 != 1) {
      taste(number, run, plan, findings, chance);
    }
    if (number == DRAFT_RUNS) {
      journal.note(run, "new recipe: four pours, smaller first one");
    } else if (number == RUNS - 1) {
      journal.note(run, "last one before packing");
    }
  }

  /** Later, larger closing pours draw out more; a cup near the aim that was poured evenly wins. */
  private void taste(int number, long run, Plan plan, Findings findings, SplittableRandom chance)
      throws IOException {
    double poured = findings.pours().stream().mapToDouble(pour -> pour.poured().grams()).sum();
    double beverage =
        findings
            .lift()
            .flatMap(Findings.Lift::beverage)
            .map(Mass::grams)
            .orElse(poured - 2 * plan.dose().grams());
    double firstShare =
        findings.pours().isEmpty() ? 0 : findings.pours().get(0).poured().grams() / poured;
    double extraction =
        18.2 + 0.3 * plan.pours().size() - 6 * (firstShare - 0.16) + 0.2 * chance.nextGaussian();
    double strength = extraction * plan.dose().grams() / beverage;
    Instant at = at(number).plus(Duration.ofMinutes(20));
    for (int repeat = 0; repeat < 2 + number % 2; repeat++) {
      double shown = Math.rint((strength + 0.012 * chance.nextGaussian()) * 100) / 100;
      journal.addStrength(
          run,
          new StrengthReading(
              0, at.plusSeconds(40L * repeat), shown, OptionalDouble.of(0.02), "refractometer"));
    }
    double miss = Math.abs(strength - plan.targetStrengthPercent().orElse(1.38)) / 0.1;
    Map<TasteItem, Double> scores = new EnumMap<>(TasteItem.class);
    for (TasteItem item : TasteItem.values()) {
      double lean = item == TasteItem.SWEETNESS ? -8 * (firstShare - 0.16) : 0;
      double points = 7.6 + lean - 0.7 * miss + 0.35 * chance.nextGaussian();
      scores.put(item, Math.max(0, Math.min(Tasting.MOST_POINTS, Math.rint(points * 4) / 4)));
    }
    journal.addTasting(run, new Tasting(0, at.plusSeconds(300), BREWER, scores, ""));
  }
}
