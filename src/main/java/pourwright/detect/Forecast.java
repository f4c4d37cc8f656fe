package pourwright.detect;

import java.util.Optional;
import pourwright.units.Flow;
import pourwright.units.Mass;

/** Builds the {@link Outlook} from a watch: what is, and where it would come to rest. */
final class Forecast {
  /** Water that still comes after the brewer stops, as time at the present flow (s); prior. */
  private static final double RUN_ON_SECONDS = 0.35;

  private static final double RUN_ON_UNCERTAINTY_SECONDS = 0.2;

  private Forecast() {}

  static Outlook of(Watch watch, Evidence e) {
    Signal signal = watch.signal();
    Ledger ledger = watch.phase().ledger();
    boolean fitted = e.fitLine(e.now() - 0.5, 3);
    double flow = fitted ? e.lineSlope() : 0;
    double inThisPour = 0;
    Optional<Outlook.Landing> landing = Optional.empty();
    if (watch.phase() instanceof Phase.Pouring pouring) {
      inThisPour = e.lineEnd() - pouring.base();
      double moving = Math.max(0, flow);
      double more = moving * (e.lag() + RUN_ON_SECONDS);
      double uncertainty = Math.hypot(e.noise(), moving * RUN_ON_UNCERTAINTY_SECONDS);
      landing =
          Optional.of(
              new Outlook.Landing(
                  Mass.ofGrams(inThisPour + more),
                  Mass.ofGrams(ledger.settled() + inThisPour + more),
                  Mass.ofGrams(uncertainty)));
    }
    double period = signal.period();
    return new Outlook(
        e.knownAt(),
        watch.isSilent() ? Outlook.Doing.BLIND : watch.phase().doing(),
        ledger.pours(),
        Mass.ofGrams(inThisPour),
        Mass.ofGrams(ledger.settled() + inThisPour),
        Flow.ofGramsPerSecond(flow),
        landing,
        e.lag(),
        Mass.ofGrams(e.noise()),
        period > 0 ? 1 / period : 0);
  }
}
