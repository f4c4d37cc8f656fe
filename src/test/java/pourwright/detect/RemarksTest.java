package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Flow;
import pourwright.units.Mass;

class RemarksTest {
  private static final OptionalDouble NO_LAG = OptionalDouble.empty();

  private static Track shown(double perSecond, double step, double noise) {
    Random random = new Random(3);
    Curve curve = new Curve(Place.WHOLE);
    for (int i = 0; i < 200; i++) {
      double mass = 80 + noise * random.nextGaussian();
      curve.add(Math.round(i / perSecond * 1e9), Math.round(Math.rint(mass / step) * step * 1e9));
    }
    return new Track(curve);
  }

  private static Findings findings(List<Findings.Pour> pours, List<Findings.Gap> gaps) {
    return new Findings(Rig.WHOLE, pours, List.of(), Optional.empty(), List.of(), gaps, List.of());
  }

  private static Findings.Pour pour(int index, boolean isEndSaid, boolean acrossGap) {
    return new Findings.Pour(
        index,
        Readings.at(10),
        Readings.at(20),
        Mass.ofGrams(50),
        Flow.ofGramsPerSecond(5),
        Optional.of(Readings.at(10.5)),
        isEndSaid ? Optional.of(Readings.at(21)) : Optional.empty(),
        acrossGap);
  }

  private static List<String> of(Track track) {
    return Remarks.of(Optional.of(track), Optional.empty(), NO_LAG, findings(List.of(), List.of()));
  }

  @Test
  void good_scale_and_a_whole_recording_need_no_words() {
    assertThat(of(shown(10, 0.1, 0.03))).isEmpty();
    assertThat(of(new Track(new Curve(Place.WHOLE)))).isEmpty();
  }

  @Test
  void coarse_restless_or_seldom_weights_are_told() {
    assertThat(of(shown(10, 0.5, 0.5)))
        .containsExactly("The display moves in steps of 0.5 g, so masses are rough.");
    assertThat(of(shown(10, 0.1, 0.6)))
        .singleElement()
        .asString()
        .matches("The scale is restless: readings scatter by 0\\.[5-7] g\\.");
    assertThat(of(shown(4, 0.1, 0.03)))
        .containsExactly("Only 4.0 weights a second arrived, so moments are rough.");
    assertThat(of(shown(5.2, 0.1, 0.03))).isEmpty();
  }

  @Test
  void each_gap_and_what_it_did_to_a_pour_is_told() {
    Findings found =
        findings(
            List.of(pour(1, true, true), pour(2, true, false), pour(3, false, false)),
            List.of(new Findings.Gap(Place.WHOLE, Readings.at(12.04), Readings.at(15))));
    assertThat(Remarks.of(Optional.of(shown(10, 0.1, 0.03)), Optional.empty(), NO_LAG, found))
        .containsExactly(
            "No weights arrived from 12.0 to 15.0 s.",
            "Pour 1 was rebuilt from what was weighed before and after the missing weights.",
            "Pour 3 was still running, or its end was not seen live.");
  }

  @Test
  void lag_that_is_worth_measuring_is_told() {
    Optional<Track> track = Optional.of(shown(10, 0.1, 0.03));
    Findings none = findings(List.of(), List.of());
    assertThat(Remarks.of(track, Optional.empty(), OptionalDouble.of(0.29), none)).isEmpty();
    assertThat(Remarks.of(track, Optional.empty(), OptionalDouble.of(0.3), none))
        .containsExactly(
            "The scale runs about 0.3 s behind; a measured lag makes the moments exacter.");
  }

  @Test
  void pours_seen_only_by_what_ran_out_are_rough() {
    Findings found = findings(List.of(pour(1, true, false)), List.of());
    Optional<Track> server = Optional.of(shown(10, 1, 0.6));
    assertThat(Remarks.of(Optional.empty(), server, NO_LAG, found))
        .containsExactly(
            "The display moves in steps of 1.0 g, so masses are rough.",
            "Pours were inferred from what ran into the server; their masses are rough.");
    assertThat(Remarks.of(Optional.empty(), server, NO_LAG, findings(List.of(), List.of())))
        .hasSize(1);
    assertThat(Remarks.of(Optional.of(shown(10, 0.1, 0.03)), server, NO_LAG, found)).isEmpty();
  }
}
