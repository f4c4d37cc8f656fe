package pourwright.bed;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import pourwright.detect.Basis;
import pourwright.detect.Findings;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class KnownDrainageTest {
  private static final Optional<Mass> DOSE = Optional.of(Mass.ofGrams(16));

  /** Three pours; each drains {@code seconds} after its end, or is only bounded by the next. */
  private static Findings run(Basis... bases) {
    List<Findings.Pour> pours = new ArrayList<>();
    List<Findings.Drawdown> drawdowns = new ArrayList<>();
    for (int i = 0; i < bases.length; i++) {
      double start = 60 * i;
      SessionTime end = SessionTime.ofSeconds(start + 10);
      pours.add(
          new Findings.Pour(
              i + 1,
              SessionTime.ofSeconds(start),
              end,
              Mass.ofGrams(i == 0 ? 45 : 70),
              Flow.ZERO,
              Optional.empty(),
              Optional.empty(),
              false));
      double drained = bases[i] == Basis.MEASURED ? start + 25 : start + 60;
      drawdowns.add(new Findings.Drawdown(i + 1, end, SessionTime.ofSeconds(drained), bases[i]));
    }
    return new Findings(
        Rig.SPLIT, pours, drawdowns, Optional.empty(), List.of(), List.of(), List.of());
  }

  private static List<Basis> bases(Findings findings) {
    return findings.drawdowns().stream().map(Findings.Drawdown::basis).toList();
  }

  @Test
  void drawdowns_measured_earlier_in_the_run_model_the_later_ones() {
    Findings before = run(Basis.MEASURED, Basis.MEASURED, Basis.BOUNDED);

    Findings after = KnownDrainage.complete(before, DOSE, List.of());

    assertThat(bases(after)).containsExactly(Basis.MEASURED, Basis.MEASURED, Basis.MODELLED);
    double drained = after.drawdowns().get(2).end().seconds();
    assertThat(drained).isBetween(135.0, 160.0);
  }

  @Test
  void another_run_through_the_same_bed_models_a_whole_rig() {
    Findings whole = run(Basis.BOUNDED, Basis.BOUNDED, Basis.BOUNDED);
    Findings other = run(Basis.MEASURED, Basis.MEASURED, Basis.MEASURED);

    assertThat(bases(KnownDrainage.complete(whole, DOSE, List.of(other))))
        .containsOnly(Basis.MODELLED);
  }

  @Test
  void nothing_is_modelled_without_a_measured_drawdown_or_a_dose() {
    Findings whole = run(Basis.BOUNDED, Basis.BOUNDED);
    Findings half = run(Basis.MEASURED, Basis.BOUNDED);

    assertThat(KnownDrainage.complete(whole, DOSE, List.of())).isEqualTo(whole);
    assertThat(KnownDrainage.complete(half, Optional.empty(), List.of())).isEqualTo(half);
    Findings all = run(Basis.MEASURED, Basis.MEASURED);
    assertThat(KnownDrainage.complete(all, DOSE, List.of())).isEqualTo(all);
  }
}
