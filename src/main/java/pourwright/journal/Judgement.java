package pourwright.journal;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import pourwright.compare.Comparison;
import pourwright.detect.Findings;
import pourwright.detect.PourEvent;

/**
 * What a version of the detector made of a run.
 *
 * @param detector version of the detector, see {@link pourwright.detect.Analysis#VERSION}
 * @param announced as the causal detector said it
 * @param comparison with the plan, where there is one
 */
public record Judgement(
    int detector,
    Instant madeAt,
    List<PourEvent> announced,
    Findings findings,
    Optional<Comparison> comparison) {
  public Judgement {
    announced = List.copyOf(announced);
  }
}
