package pourwright.forecast;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import pourwright.bed.Bed;
import pourwright.bed.Drainage;
import pourwright.bed.Permeability;
import pourwright.bed.Poured;
import pourwright.forecast.Trouble.Kind;
import pourwright.kettle.Course;
import pourwright.plan.Plan;
import pourwright.plan.PlannedPour;
import pourwright.plan.Start;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;
import pourwright.water.Water;

/** Holds a foreseen brew against its kit, its limits and the brewer's history. */
final class Checks {
  /** Smaller differences of mass are noise of the model (g); own choice. */
  private static final double FELT_GRAMS = 0.5;

  /** A rim is not known better than this (mL); own choice. */
  private static final double FELT_MILLILITRES = 1;

  /** Smaller differences of temperature are noise of the model (K); own choice. */
  private static final double FELT_CELSIUS = 0.1;

  /** A fitted bed is searched for up to this many times more open; own choice. */
  private static final double MOST_OPEN = 8;

  private static final int HALVINGS = 12;

  private final Plan plan;
  private final Kit kit;
  private final Experience experience;
  private final double celsius;
  private final Brew brew;
  private final Course kettle;
  private final List<Forecast.Pour> pours;
  private final Bed bed;
  private final Water slurry;
  private final List<Trouble> found = new ArrayList<>();

  Checks(
      Plan plan,
      Kit kit,
      Experience experience,
      double celsius,
      Brew brew,
      Course kettle,
      List<Forecast.Pour> pours,
      Bed bed,
      Water slurry) {
    this.plan = plan;
    this.kit = kit;
    this.experience = experience;
    this.celsius = celsius;
    this.brew = brew;
    this.kettle = kettle;
    this.pours = pours;
    this.bed = bed;
    this.slurry = slurry;
  }

  /** All troubles, pour by pour. */
  List<Trouble> all() {
    overfull();
    for (Forecast.Pour pour : pours) {
      PlannedPour planned = plan.pours().get(pour.index() - 1);
      overflow(pour);
      flow(pour, planned);
      drained(pour, planned);
      cool(pour);
    }
    shortOfWater();
    overTime();
    found.sort((one, other) -> Integer.compare(one.pour(), other.pour()));
    return found;
  }

  private void overflow(Forecast.Pour pour) {
    double above =
        bed.shape().depthMetres(bed.millilitres()) + pour.peakMetres() - kit.dripper().rimMetres();
    if (above <= 0) {
      return;
    }
    double standing =
        brew.levels().stream()
            .filter(level -> !level.at().isBefore(pour.poured().start()))
            .filter(level -> level.slurryMetres() >= pour.peakMetres())
            .mapToDouble(level -> slurry.millilitres(level.standing()))
            .findFirst()
            .orElseThrow();
    double excess = bed.millilitres() + standing - kit.dripper().millilitres();
    if (excess < FELT_MILLILITRES) {
      return;
    }
    add(
        pour,
        Kind.OVERFLOW,
        excess,
        String.format(
            Locale.ROOT,
            "the slurry rises %.1f mm over the rim, %.0f mL too much",
            1_000 * above,
            excess),
        String.format(
            Locale.ROOT,
            pour.index() == 1
                ? "pour %.0f g less, or take a larger dripper"
                : "pour %.0f g less, pour slower, or wait for the bed before it",
            tooMuch(pour)));
  }

  /** Whole grams that a pour must give less to stay under the rim. */
  private double tooMuch(Forecast.Pour pour) {
    double low = 0;
    double high = pour.poured().mass().grams();
    while (high - low > 1) {
      double middle = Math.rint((low + high) / 2);
      if (middle == low || middle == high) {
        break;
      }
      if (riseAfter(pour, middle) > kit.dripper().rimMetres()) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return Math.ceil(high);
  }

  /** Highest surface above the outlet (m) when a pour gives so much less. */
  private double riseAfter(Forecast.Pour pour, double lessGrams) {
    List<PlannedPour> until = new ArrayList<>(plan.pours().subList(0, pour.index()));
    PlannedPour planned = until.remove(pour.index() - 1);
    Mass left = planned.add().minus(Mass.ofGrams(lessGrams));
    if (left.compareTo(Mass.ZERO) > 0) {
      until.add(new PlannedPour(pour.index(), left, planned.flow(), planned.start()));
    }
    if (until.isEmpty()) {
      return 0;
    }
    return bed.shape().depthMetres(bed.millilitres())
        + Brew.of(until, bed, experience.draining(bed).permeability(), slurry).levels().stream()
            .mapToDouble(Drainage.Level::slurryMetres)
            .max()
            .orElse(0);
  }

  private void flow(Forecast.Pour pour, PlannedPour planned) {
    double flow = planned.flow().gramsPerSecond();
    double most = kit.limits().mostFlow().gramsPerSecond();
    if (flow > most) {
      add(
          pour,
          Kind.KETTLE_FLOW,
          flow - most,
          String.format(
              Locale.ROOT, "%.1f g/s is %.1f g/s more than the kettle gives", flow, flow - most),
          slower(planned, kit.limits().mostFlow()));
      return;
    }
    experience.hand().ifPresent(hand -> hand(pour, planned, hand));
  }

  private void hand(Forecast.Pour pour, PlannedPour planned, Experience.Hand hand) {
    double flow = planned.flow().gramsPerSecond();
    double fastest = hand.fastest().gramsPerSecond();
    double slowest = hand.slowest().gramsPerSecond();
    if (flow > fastest) {
      add(
          pour,
          Kind.HAND_FLOW,
          flow - fastest,
          String.format(
              Locale.ROOT,
              "%.1f g/s is %.1f g/s faster than any of your %d pours",
              flow,
              flow - fastest,
              hand.pours()),
          slower(planned, hand.fastest()) + ", or rehearse it");
    } else if (flow < slowest) {
      add(
          pour,
          Kind.HAND_FLOW,
          slowest - flow,
          String.format(
              Locale.ROOT,
              "%.1f g/s is %.1f g/s slower than any of your %d pours",
              flow,
              slowest - flow,
              hand.pours()),
          String.format(Locale.ROOT, "plan %.1f g/s, or rehearse it", slowest));
    }
  }

  private static String slower(PlannedPour planned, Flow flow) {
    double longer =
        planned.add().grams() / flow.gramsPerSecond() - planned.length().toNanos() / 1e9;
    return String.format(
        Locale.ROOT, "plan %.1f g/s; it takes %.0f s longer", flow.gramsPerSecond(), longer);
  }

  private void drained(Forecast.Pour pour, PlannedPour planned) {
    if (pour.index() == 1) {
      return;
    }
    double tolerance = plan.tolerance().start().toNanos() / 1e9;
    Optional<Forecast.Span> before = pours.get(pour.index() - 2).drained();
    if (planned.start() instanceof Start.WhenDrained waiting && before.isPresent()) {
      double later = pour.poured().start().secondsSince(waiting.expected());
      Forecast.Span span = before.get();
      boolean isLikely =
          waiting.expected().isBefore(span.early()) || waiting.expected().isAfter(span.late());
      if (Math.abs(later) > tolerance && isLikely) {
        add(
            pour,
            Kind.DRAINED_OTHERWISE,
            later,
            String.format(
                Locale.ROOT,
                "the bed is dry at about %s, %.0f s %s than planned",
                clock(span.expected()),
                Math.abs(later),
                later > 0 ? "later" : "sooner"),
            String.format(Locale.ROOT, "write at_s: %.0f", span.expected().seconds()));
      }
      return;
    }
    if (planned.start() instanceof Start.WhenDrained) {
      return; // never dry: the limit of time tells
    }
    double standing = standingAt(pour.poured().start());
    if (standing <= FELT_GRAMS) {
      return;
    }
    SessionTime dry = dryWithout(pour.index(), 0);
    double early = dry.secondsSince(pour.poured().start());
    if (early > tolerance && dryWithout(pour.index(), 1).isAfter(pour.poured().start())) {
      add(
          pour,
          Kind.BEFORE_DRAINED,
          early,
          String.format(
              Locale.ROOT,
              "it starts %.0f s before the bed is dry, with %.0f g still standing",
              early,
              standing),
          planned.start() instanceof Start.AtClock
              ? String.format(
                  Locale.ROOT, "start it at %.0f s, or leave it so if you mean it", dry.seconds())
              : String.format(
                  Locale.ROOT,
                  "leave a gap of %.0f s, or leave it so if you mean it",
                  dry.secondsSince(pours.get(pour.index() - 2).poured().end())));
    }
  }

  private double standingAt(SessionTime moment) {
    double grams = 0;
    for (Drainage.Level level : brew.levels()) {
      if (level.at().isAfter(moment)) {
        break;
      }
      grams = level.standing().grams();
    }
    return grams;
  }

  /**
   * When the bed would be dry if a pour and all after it were not made.
   *
   * @param uncertainties how many of them more open the bed is taken
   */
  private SessionTime dryWithout(int index, double uncertainties) {
    return Brew.of(
            plan.pours().subList(0, index - 1),
            bed,
            experience.draining(bed).shifted(uncertainties),
            slurry)
        .end();
  }

  private void overTime() {
    SessionTime limit = SessionTime.ZERO.plus(kit.limits().time());
    double over = brew.end().secondsSince(limit);
    if (over <= 0) {
      return;
    }
    OptionalInt first =
        IntStream.range(0, pours.size())
            .filter(
                i ->
                    pours.get(i).poured().end().isAfter(limit)
                        || pours
                            .get(i)
                            .drained()
                            .filter(at -> at.expected().isAfter(limit))
                            .isPresent())
            .findFirst();
    Forecast.Pour pour = pours.get(first.orElse(pours.size() - 1));
    add(
        pour,
        Kind.OVER_TIME,
        over,
        String.format(
            Locale.ROOT,
            "the bed is dry at %s, %.0f s after the limit of %s",
            clock(brew.end()),
            over,
            clock(limit)),
        openEnough(limit)
            .map(
                times ->
                    String.format(
                        Locale.ROOT,
                        "a coarser grind that drains %.0f %% faster would keep it, or start sooner",
                        100 * (times - 1)))
            .orElse(
                String.format(
                    Locale.ROOT, "start the pours sooner by %.0f s in all, or pour fewer", over)));
  }

  /** How many times more open the bed must be to keep the limit; empty when no bed would. */
  private Optional<Double> openEnough(SessionTime limit) {
    double low = 1;
    double high = MOST_OPEN;
    if (endWhenOpen(high).isAfter(limit)) {
      return Optional.empty();
    }
    for (int i = 0; i < HALVINGS; i++) {
      double middle = Math.sqrt(low * high);
      if (endWhenOpen(middle).isAfter(limit)) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return Optional.of(high);
  }

  private SessionTime endWhenOpen(double times) {
    Permeability known = experience.draining(bed).permeability();
    return Brew.of(plan.pours(), bed, pour -> times * known.squareMetres(pour), slurry).end();
  }

  private void overfull() {
    double over = kit.filling().fill().minus(kit.kettle().holds()).grams();
    if (over > 0) {
      add(
          pours.get(0),
          Kind.KETTLE_OVERFULL,
          over,
          String.format(Locale.ROOT, "the kettle is filled with %.0f g more than it holds", over),
          String.format(
              Locale.ROOT,
              "fill it with at most %s, and refill between pours",
              kit.kettle().holds()));
    }
  }

  private void shortOfWater() {
    double stays = kit.filling().stays().grams();
    for (Forecast.Pour pour : pours) {
      double left = leftAfter(pour.poured());
      if (left < stays - FELT_GRAMS) {
        double missing = stays - leftAfter(pours.get(pours.size() - 1).poured());
        double fill = kit.filling().fill().grams() + missing;
        add(
            pour,
            Kind.KETTLE_SHORT,
            stays - left,
            String.format(Locale.ROOT, "the kettle runs %.0f g short", stays - left),
            fill <= kit.kettle().holds().grams()
                ? String.format(
                    Locale.ROOT, "fill it with %.0f g for the whole brew", Math.ceil(fill))
                : String.format(Locale.ROOT, "refill %.0f g before it", Math.ceil(missing)));
        return;
      }
    }
  }

  private double leftAfter(Poured poured) {
    return kettle.at(poured.end()).mass().grams();
  }

  private void cool(Forecast.Pour pour) {
    double least = celsius - kit.limits().coolerCelsius();
    double is = pour.kettleAtStart().celsius();
    if (least - is < FELT_CELSIUS) {
      return;
    }
    double kilograms = Math.max(0, pour.kettleAtStart().mass().grams()) / 1_000;
    double watts = kit.kettle().heaterWatts();
    double seconds =
        watts > 0 ? (celsius - is) * kit.kettle().joulesPerKelvin(kilograms) / watts : 0;
    add(
        pour,
        Kind.KETTLE_COOL,
        least - is,
        String.format(
            Locale.ROOT, "the kettle is at %.1f °C, %.1f °C below the plan", is, celsius - is),
        watts > 0 && !kit.filling().isOnBase()
            ? String.format(
                Locale.ROOT, "set it on its base for %.0f s before this pour", Math.ceil(seconds))
            : "start with a fuller kettle, or heat it again before this pour");
  }

  private void add(Forecast.Pour pour, Kind kind, double by, String says, String fix) {
    found.add(new Trouble(pour.index(), kind, by, says, fix));
  }

  private static String clock(SessionTime at) {
    long seconds = Math.round(at.seconds());
    return String.format(Locale.ROOT, "%d:%02d", seconds / 60, seconds % 60);
  }
}
