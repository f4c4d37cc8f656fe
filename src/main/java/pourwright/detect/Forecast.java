package pourwright.detect;

import java.util.Optional;
import pourwright.units.Flow;
import pourwright.units.Mass;

/** Builds the {@link Outlook} from a watch: what is, and where it would come to rest. */
final class Forecast {
  /**
   * Push of the jet beyond the water in the air, as time of flow (s): speed at the spout over g,
   * for about a third of a metre a second. It ends with the pour.
   */
  private static final double PUSH_SECONDS = 0.03;

  private static final double PUSH_UNCERTAINTY_SECONDS = 0.03;

  /** Lag of a scale of which nothing is known yet, and how little that says (s). */
  static final double USUAL_LAG_SECONDS = 0.12;

  private static final double LAG_UNCERTAINTY_SECONDS = 0.1;

  /** Of a lag that was measured (s). */
  private static final double MEASURED_LAG_UNCERTAINTY_SECONDS = 0.03;

  private Forecast() {}

  static Outlook of(Watch watch, Evidence e) {
    Signal signal = watch.signal();
    Ledger ledger = watch.phase().ledger();
    boolean fitted = e.fitLine(e.now() - 0.5, 3);
    double flow = fitted ? e.lineSlope() : 0;
    double inThisPour = 0;
    Optional<Outlook.Landing> landing = Optional.empty();
    if (watch.phase() instanceof Phase.Pouring pouring) {
      double sinceBin = Math.max(0, signal.newest() - e.now());
      inThisPour = e.lineEnd() + Math.max(0, flow) * sinceBin - pouring.base();
      double moving = Math.max(0, flow);
      StoppingHabit habit = watch.habit();
      double lag = e.knowsLag() ? e.lag() : USUAL_LAG_SECONDS;
      double lagDoubt = e.knowsLag() ? MEASURED_LAG_UNCERTAINTY_SECONDS : LAG_UNCERTAINTY_SECONDS;
      double coming = lag + habit.seconds() - PUSH_SECONDS;
      double doubt =
          Math.hypot(Math.hypot(habit.spreadSeconds(), PUSH_UNCERTAINTY_SECONDS), lagDoubt);
      double more = moving * coming;
      double fit = Math.hypot(e.noise(), e.lineScatter());
      double uncertainty =
          Math.hypot(Math.hypot(fit, moving * doubt), Math.abs(coming) * e.lineSlopeError());
      landing =
          Optional.of(
              new Outlook.Landing(
                  Mass.ofGrams(inThisPour + more),
                  Mass.ofGrams(ledger.settled() + inThisPour + more),
                  Mass.ofGrams(uncertainty)));
    }
    double period = signal.period();
    double poured = ledger.settled() + inThisPour;
    int pours = ledger.pours();
    Outlook.Doing doing = watch.phase().doing();
    Surges surges = watch.surges();
    if (surges != null) {
      inThisPour = surges.ranOut(e);
      pours = surges.pours();
      doing = surges.doing(doing);
    }
    return new Outlook(
        e.knownAt(),
        watch.isSilent() ? Outlook.Doing.BLIND : doing,
        pours,
        Mass.ofGrams(inThisPour),
        Mass.ofGrams(poured),
        Flow.ofGramsPerSecond(flow),
        surges == null ? landing : Optional.empty(),
        e.lag(),
        Mass.ofGrams(e.noise()),
        period > 0 ? 1 / period : 0);
  }
}
