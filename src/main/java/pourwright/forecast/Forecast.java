package pourwright.forecast;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.bed.Bed;
import pourwright.bed.Drainage;
import pourwright.bed.Poured;
import pourwright.kettle.Course;
import pourwright.kettle.Deed;
import pourwright.plan.Plan;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * A plan before it is poured.
 *
 * @param kettleCelsius at the first water, from the plan or, where it does not say, 93 °C
 * @param isLearned whether the drain times rest on the brewer's own runs
 * @param levels course of the slurry, best estimate
 * @param early the same with a bed one standard uncertainty more open
 * @param late the same with a bed one standard uncertainty closer
 * @param bedMetres depth of the bed (m)
 * @param beverageGrams in the server
 * @param extractionPercent that the aimed strength asks for (% of the dose)
 * @param strengthPercent that past extractions make likely (% of the beverage)
 * @param kettle its course through the brew
 * @param water in all
 */
public record Forecast(
    Plan plan,
    double kettleCelsius,
    boolean isLearned,
    List<Pour> pours,
    List<Drainage.Level> levels,
    List<Drainage.Level> early,
    List<Drainage.Level> late,
    double bedMetres,
    Estimate beverageGrams,
    Optional<Estimate> extractionPercent,
    Optional<Estimate> strengthPercent,
    Course kettle,
    Water water,
    List<Trouble> troubles) {

  /** The hand needs these to set the kettle down and to take it up (s); own choice. */
  private static final double SET_DOWN_SECONDS = 2;

  private static final double TAKE_UP_SECONDS = 3;

  /**
   * One pour as it is thought to come.
   *
   * @param drained when its water has gone; empty where the next pour comes first
   * @param peakMetres highest surface above the bed (m) until the next pour
   * @param kettleAtStart what is in the kettle when it starts
   */
  public record Pour(
      int index,
      Poured poured,
      Optional<Span> drained,
      double peakMetres,
      Course.Content kettleAtStart) {}

  /**
   * A moment with one standard uncertainty to either side.
   *
   * @param late or the start of the next pour, where that comes first
   */
  public record Span(SessionTime expected, SessionTime early, SessionTime late) {}

  /** Water to have at hand. */
  public record Water(Mass pours, Mass rinse, Mass stays, Mass evaporated) {
    public Mass total() {
      return pours.plus(rinse).plus(stays).plus(evaporated);
    }
  }

  public Forecast {
    pours = List.copyOf(pours);
    levels = List.copyOf(levels);
    early = List.copyOf(early);
    late = List.copyOf(late);
    troubles = List.copyOf(troubles);
  }

  /** Foresees a plan that has at least one pour. */
  public static Forecast of(Plan plan, Kit kit, Experience experience) {
    Bed usual = Bed.ofDose(kit.dripper().shape(), plan.dose());
    Bed bed =
        new Bed(
            usual.shape(),
            usual.millilitres(),
            Mass.ofGrams(Math.max(0, experience.keptPerGram().value()) * plan.dose().grams()));
    Experience.Draining draining = experience.draining(bed);
    pourwright.water.Water slurry = Experience.slurry(plan.waterTemperatureCelsius());
    Brew brew = Brew.of(plan.pours(), bed, draining.permeability(), slurry);
    Brew open = Brew.of(plan.pours(), bed, draining.shifted(1), slurry);
    Brew close = Brew.of(plan.pours(), bed, draining.shifted(-1), slurry);

    double celsius = plan.waterTemperatureCelsius().orElse(Experience.USUAL_KETTLE_CELSIUS);
    Course kettle = kettle(brew, kit, celsius);
    List<Pour> pours = pours(brew, open, close, kettle);
    Estimate beverage = beverage(plan, experience);
    Checks checks = new Checks(plan, kit, experience, celsius, brew, kettle, pours, bed, slurry);
    return new Forecast(
        plan,
        celsius,
        experience.bed().isPresent(),
        pours,
        brew.levels(),
        open.levels(),
        close.levels(),
        bed.shape().depthMetres(bed.millilitres()),
        beverage,
        extraction(plan.targetStrengthPercent(), beverage, plan.dose()),
        experience.extractionPercent().map(past -> strength(past, beverage, plan.dose())),
        kettle,
        new Water(plan.water(), kit.filling().rinse(), kit.filling().stays(), kettle.evaporated()),
        checks.all());
  }

  private static Course kettle(Brew brew, Kit kit, double celsius) {
    List<Deed> deeds = new ArrayList<>(kit.filling().refills());
    List<Poured> pours = brew.pours();
    for (int i = 0; i < pours.size(); i++) {
      Poured pour = pours.get(i);
      deeds.add(new Deed.PourOut(pour.start(), pour.end(), pour.mass()));
      if (kit.filling().isOnBase() && i + 1 < pours.size()) {
        SessionTime down = pour.end().plusSeconds(SET_DOWN_SECONDS);
        SessionTime up = pours.get(i + 1).start().plusSeconds(-TAKE_UP_SECONDS);
        if (up.isAfter(down)) {
          deeds.add(new Deed.Heat(down, up, celsius));
        }
      }
    }
    return Course.of(
        kit.kettle(),
        kit.room(),
        new Course.Content(kit.filling().fill(), celsius),
        deeds,
        pours.get(pours.size() - 1).end());
  }

  private static List<Pour> pours(Brew brew, Brew open, Brew close, Course kettle) {
    List<Pour> pours = new ArrayList<>();
    for (int i = 0; i < brew.pours().size(); i++) {
      Poured poured = brew.pours().get(i);
      SessionTime next = i + 1 < brew.pours().size() ? brew.pours().get(i + 1).start() : brew.end();
      double peak =
          brew.levels().stream()
              .filter(level -> !level.at().isBefore(poured.start()) && !level.at().isAfter(next))
              .mapToDouble(Drainage.Level::slurryMetres)
              .max()
              .orElse(0);
      int position = i;
      Optional<Span> drained =
          brew.drained()
              .get(i)
              .map(
                  at -> {
                    SessionTime soonest = open.drained().get(position).orElse(at);
                    SessionTime latest = close.drained().get(position).orElse(next);
                    return new Span(
                        at, soonest.isBefore(at) ? soonest : at, latest.isAfter(at) ? latest : at);
                  });
      pours.add(new Pour(i + 1, poured, drained, peak, kettle.at(poured.start())));
    }
    return pours;
  }

  private static Estimate beverage(Plan plan, Experience experience) {
    double dose = plan.dose().grams();
    return new Estimate(
        Math.max(0, plan.water().grams() - dose * experience.keptPerGram().value()),
        dose * experience.keptPerGram().uncertainty());
  }

  /** Strength times beverage over dose, by the balance of dissolved mass. */
  private static Optional<Estimate> extraction(
      OptionalDouble strengthPercent, Estimate beverage, Mass dose) {
    return strengthPercent.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Estimate(
                strengthPercent.getAsDouble() * beverage.value() / dose.grams(),
                strengthPercent.getAsDouble() * beverage.uncertainty() / dose.grams()));
  }

  private static Estimate strength(Estimate extraction, Estimate beverage, Mass dose) {
    if (beverage.value() == 0) {
      return new Estimate(0, 0);
    }
    double value = extraction.value() * dose.grams() / beverage.value();
    return new Estimate(
        value,
        Math.hypot(
            extraction.uncertainty() * dose.grams() / beverage.value(),
            value * beverage.uncertainty() / beverage.value()));
  }
}
