package pourwright.builder;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.bed.Shape;
import pourwright.forecast.Dripper;
import pourwright.forecast.Filling;
import pourwright.forecast.Kit;
import pourwright.forecast.Limits;
import pourwright.kettle.Deed;
import pourwright.kettle.Kettle;
import pourwright.kettle.Room;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.plan.Tolerance;
import pourwright.recipe.Pace;
import pourwright.recipe.Recipe;
import pourwright.recipe.Scheme;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * A plan in the making, as the page holds it.
 *
 * @param fields as sent
 * @param kept a saved plan whose other values (tolerance, rig, empty masses, talk) go on
 */
record Draft(Fields fields, Optional<Plan> kept) {
  private static final double MOST_GRAMS = 5_000;
  private static final double MOST_SECONDS = 3_600;
  private static final double MOST_FLOW = 50;
  private static final double MILLIMETRES_PER_METRE = 1_000;

  /** The plan, or why there is none. */
  sealed interface Made {
    record Planned(Plan plan) implements Made {}

    /** Plain sentences. */
    record Not(List<String> problems) implements Made {}
  }

  Made make() throws BadDraft {
    Optional<Fields> shares = fields.findObject("shares");
    return shares.isPresent() ? fromShares(shares.get()) : fromPours();
  }

  private Made fromShares(Fields shares) throws BadDraft {
    double seconds = shares.number("seconds", 0, MOST_SECONDS);
    List<Double> closing = new ArrayList<>();
    for (JsonNode part : shares.items("closing")) {
      closing.add(Fields.number(part, "closing", 0, 1_000));
    }
    Recipe recipe =
        new Recipe(
            title(),
            fields.mass("dose_g", MOST_GRAMS),
            fields.mass("water_g", MOST_GRAMS),
            shares.number("opening_pct", 0, 100) / 100,
            shares.mass("first_g", MOST_GRAMS),
            closing,
            shares.flow("flow_g_per_s", MOST_FLOW),
            pace(shares.text("start", "clock"), seconds),
            fields.mass("step_g", 100),
            fields.findNumber("temp_c", 0, 100),
            fields.findNumber("strength_pct", 0, 20),
            rig(),
            kept.map(Plan::tolerance).orElse(Tolerance.COMMON));
    List<String> problems = recipe.problems();
    return problems.isEmpty()
        ? new Made.Planned(withKept(recipe.toPlan()))
        : new Made.Not(problems);
  }

  private static Pace pace(String start, double seconds) throws BadDraft {
    Duration span = Duration.ofMillis(Math.round(1_000 * seconds));
    return switch (start) {
      case "clock" -> new Pace.ByClock(span);
      case "drained" -> new Pace.WhenDrained(span);
      case "gap" -> new Pace.AfterEnd(span);
      default -> throw new BadDraft("A pour starts by clock, drained or gap.");
    };
  }

  private Made fromPours() throws BadDraft {
    List<PlannedPour> pours = new ArrayList<>();
    Mass sum = Mass.ZERO;
    for (JsonNode item : fields.items("pours")) {
      Fields pour = new Fields(item);
      int index = pours.size() + 1;
      Mass add = pour.mass("add_g", MOST_GRAMS);
      Flow flow = pour.flow("flow_g_per_s", MOST_FLOW);
      if (add.equals(Mass.ZERO) || flow.equals(Flow.ZERO)) {
        return new Made.Not(List.of("pour " + index + " needs a mass and a flow above zero"));
      }
      double seconds = pour.number("seconds", 0, MOST_SECONDS);
      pours.add(new PlannedPour(index, add, flow, start(pour.text("start", "clock"), seconds)));
      sum = sum.plus(add);
    }
    Mass dose = fields.mass("dose_g", MOST_GRAMS);
    if (pours.isEmpty() || dose.equals(Mass.ZERO)) {
      return new Made.Not(List.of("a plan needs coffee and at least one pour"));
    }
    return new Made.Planned(
        withKept(
            new Plan(
                title(),
                dose,
                sum,
                fields.findNumber("temp_c", 0, 100),
                fields.findNumber("strength_pct", 0, 20),
                rig(),
                Optional.empty(),
                Optional.empty(),
                kept.map(Plan::tolerance).orElse(Tolerance.COMMON),
                pours,
                List.of())));
  }

  private static Start start(String rule, double seconds) throws BadDraft {
    SessionTime at = SessionTime.ofSeconds(seconds);
    return switch (rule) {
      case "clock" -> new Start.AtClock(at);
      case "drained" -> new Start.WhenDrained(at);
      case "gap" -> new Start.AfterEnd(at.since(SessionTime.ZERO));
      default -> throw new BadDraft("A pour starts by clock, drained or gap.");
    };
  }

  private Plan withKept(Plan plan) {
    return kept.map(
            old ->
                new Plan(
                    plan.title(),
                    plan.dose(),
                    plan.water(),
                    plan.waterTemperatureCelsius(),
                    plan.targetStrengthPercent(),
                    plan.rig(),
                    old.dripper(),
                    old.server(),
                    old.tolerance(),
                    plan.pours(),
                    old.talk()))
        .orElse(plan);
  }

  private String title() throws BadDraft {
    String title = fields.text("title", "").strip();
    return title.isEmpty() ? "Trial" : title;
  }

  private Rig rig() throws BadDraft {
    String word = fields.text("rig", Rig.WHOLE.word());
    return Rig.findByWord(word)
        .orElseThrow(() -> new BadDraft("The rig is whole, server or split."));
  }

  /** What it would be brewed with. */
  Kit kit() throws BadDraft {
    Optional<Fields> told = fields.findObject("kit");
    if (told.isEmpty()) {
      return Kit.USUAL;
    }
    Fields kit = told.get();
    Kettle usual = Kettle.USUAL;
    Room room =
        new Room(
            kit.number("room_c", 0, 50), Room.USUAL.humidity(), Room.USUAL.airMetresPerSecond());
    return new Kit(
        dripper(kit),
        new Kettle(
            Mass.ofGrams(kit.number("kettle_g", 1, MOST_GRAMS)),
            usual.emptyJoulesPerKelvin(),
            kit.number("loss_w_per_k", 0, 20),
            usual.openSquareMetres(),
            kit.number("heater_w", 0, 5_000)),
        room,
        new Filling(
            kit.mass("fill_g", MOST_GRAMS),
            kit.mass("rinse_g", MOST_GRAMS),
            kit.mass("stays_g", MOST_GRAMS),
            kit.isSet("base"),
            refills(kit)),
        new Limits(
            Flow.ofGramsPerSecond(kit.number("most_flow_g_per_s", 0.1, MOST_FLOW)),
            Duration.ofMillis(Math.round(1_000 * kit.number("limit_s", 0, MOST_SECONDS))),
            kit.number("cooler_c", 0, 50)));
  }

  /** As many as there are; one of nothing is none. */
  private static List<Deed.Refill> refills(Fields kit) throws BadDraft {
    List<Deed.Refill> refills = new ArrayList<>();
    for (JsonNode item : kit.findItems("refills")) {
      Fields refill = new Fields(item);
      Mass mass = refill.mass("refill_g", MOST_GRAMS);
      if (!mass.equals(Mass.ZERO)) {
        refills.add(
            new Deed.Refill(
                SessionTime.ofSeconds(refill.number("refill_s", 0, MOST_SECONDS)),
                mass,
                refill.number("refill_c", 0, 100)));
      }
    }
    return refills;
  }

  private static Dripper dripper(Fields kit) throws BadDraft {
    double rim = kit.number("rim_mm", 5, 500) / MILLIMETRES_PER_METRE;
    double radius = kit.number("across_mm", 1, 500) / 2 / MILLIMETRES_PER_METRE;
    return switch (kit.text("dripper", "cone")) {
      case "cone" -> new Dripper(Shape.Cone.ofDegrees(60, radius), rim);
      case "flat" -> new Dripper(new Shape.FlatBottom(radius), rim);
      default -> throw new BadDraft("A dripper is a cone or flat.");
    };
  }

  /** What the plan was when it was begun. */
  Optional<Scheme> was() throws BadDraft {
    Optional<Fields> told = fields.findObject("was");
    if (told.isEmpty()) {
      return Optional.empty();
    }
    Fields was = told.get();
    return Optional.of(
        new Scheme(
            was.number("ratio", 0, 1e6),
            was.number("first_of_opening", 0, 1),
            (int) was.number("closing_pours", 0, 50),
            was.isSet("waits_for_bed"),
            was.findNumber("kettle_c", 0, 100)));
  }

  /** Which runs to learn from; empty for none. */
  Optional<Boolean> learnsFromSimulated() throws BadDraft {
    return switch (fields.text("learn", "own")) {
      case "own" -> Optional.of(false);
      case "simulated" -> Optional.of(true);
      case "none" -> Optional.empty();
      default -> throw new BadDraft("Learn from own, simulated or none.");
    };
  }
}
