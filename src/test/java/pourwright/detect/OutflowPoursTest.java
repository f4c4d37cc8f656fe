package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import pourwright.detect.PourEvent.Discarded;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.rig.Rig;
import pourwright.units.Mass;

/** Pours inferred from outflows whose every corner is known. */
class OutflowPoursTest {
  private static final DoubleUnaryOperator TWICE =
      Outflows.ran(8, 0, 18, 4, 26, 2.4, 34, 4.5, 48, 0.7, 48.2, 0);

  private static OutflowPours pours(Track track) {
    return new OutflowPours(track, new Outflow(track, List.of()), track.last());
  }

  private static List<Candidate> fitted(Track track, PourEvent... announced) {
    return pours(track).fitted(Candidate.brewed(List.of(announced), track));
  }

  private static PourStarted started(int index, double at) {
    return new PourStarted(index, Readings.at(at), Readings.at(at + 1));
  }

  private static PourEnded ended(int index, double at) {
    return new PourEnded(index, Readings.at(at), Readings.at(at + 2), Mass.ZERO);
  }

  /** Announced up to 1.2 s off, as live. */
  @Test
  void edges_are_fitted_from_both_sides() {
    List<Candidate> spans =
        fitted(
            Outflows.track(60, TWICE),
            started(1, 8.6),
            ended(1, 19.2),
            started(2, 27.1),
            ended(2, 33.2));
    assertThat(spans.get(0).start()).isCloseTo(8, within(0.3));
    assertThat(spans.get(0).end()).isCloseTo(18, within(0.3));
    assertThat(spans.get(1).start()).isCloseTo(26, within(0.3));
    assertThat(spans.get(1).end()).isCloseTo(34, within(0.3));
  }

  @Test
  void what_was_discarded_is_no_pour_and_what_did_not_end_lasts_to_the_end() {
    Discarded discarded = new Discarded(Readings.at(20), Readings.at(21));
    Track track = Outflows.track(33, TWICE);
    List<Candidate> spans = fitted(track, started(1, 8), ended(1, 18), discarded, started(1, 26.3));
    assertThat(spans).hasSize(1);
    assertThat(spans.get(0).endSaid()).isEmpty();
    assertThat(spans.get(0).end()).isEqualTo(track.last());
  }

  @Test
  void bend_that_is_not_there_stays_where_it_was_announced() {
    List<Candidate> spans = fitted(Outflows.track(40, Outflows.ran(8, 4, 38, 1)), started(1, 20));
    assertThat(spans.get(0).start()).isCloseTo(20, within(2.5));
  }

  /**
   * The first 41.2 g ran out by 26 s, when it ran as fast (2.4 g/s) as it did 7.74 s before the bed
   * was dry in the end: then 12 g were still to come.
   */
  @Test
  void what_stands_on_the_bed_at_the_next_pour_belongs_to_the_one_before() {
    Track track = Outflows.track(60, TWICE);
    OutflowPours pours = pours(track);
    List<Candidate> spans =
        fitted(track, started(1, 8), ended(1, 18), started(2, 26), ended(2, 34));
    List<Double> water = pours.water(spans, List.of(Optional.empty(), Optional.of(48.0)), 0);
    double ran = TWICE.applyAsDouble(26);
    double all = TWICE.applyAsDouble(60);
    double left = (2.4 * 2.4 - 0.7 * 0.7) / 2 / (3.8 / 14);
    assertThat(water.get(0)).isCloseTo(ran + left, within(1.5));
    assertThat(water.get(0) + water.get(1)).isCloseTo(all, within(0.3));
    List<Double> withKept = pours.water(spans, List.of(Optional.empty(), Optional.of(48.0)), 30);
    assertThat(withKept.get(0)).isCloseTo(water.get(0) + 30, within(1e-6));
    assertThat(withKept.get(1)).isCloseTo(water.get(1), within(1e-6));
  }

  /** Taken away at 40 s, when water still runs: what had run out by then counts. */
  @Test
  void server_that_is_taken_away_takes_no_water_from_the_pours() {
    DoubleUnaryOperator taken = t -> 262 + TWICE.applyAsDouble(t);
    Curve curve =
        Outflows.curve(
            50,
            t ->
                t < 2
                    ? 0
                    : taken.applyAsDouble(Math.min(t, 40))
                        * Math.max(0, Math.min(1, (40.4 - t) / 0.4)));
    Findings findings =
        Analysis.of(
                Rig.SERVER, DetectorSettings.standard().withDose(Mass.ofGrams(15)), List.of(curve))
            .findings();
    assertThat(findings.pours()).hasSize(2);
    double sum = findings.pours().stream().mapToDouble(pour -> pour.poured().grams()).sum();
    double ran = TWICE.applyAsDouble(40) + 30;
    double stands = TWICE.applyAsDouble(60) - TWICE.applyAsDouble(40);
    assertThat(sum).isBetween(ran - 1, ran + 2 * stands);
    assertThat(findings.drawdowns()).noneMatch(down -> down.basis() == Basis.MEASURED);
  }

  @Test
  void analysis_of_the_server_alone_finds_both_pours_and_when_the_bed_was_dry() {
    Findings findings =
        Analysis.of(
                Rig.SERVER,
                DetectorSettings.standard().withLagSeconds(0),
                List.of(Outflows.curve(60, TWICE)))
            .findings();
    assertThat(findings.pours()).extracting(Findings.Pour::index).containsExactly(1, 2);
    assertThat(findings.pours().get(1).start().seconds()).isCloseTo(26, within(0.4));
    assertThat(findings.pours()).allMatch(pour -> pour.startAnnounced().isPresent());
    assertThat(findings.pours()).allMatch(pour -> pour.endAnnounced().isPresent());
    assertThat(findings.drawdowns().get(0).basis()).isEqualTo(Basis.BOUNDED);
    assertThat(findings.drawdowns().get(1).basis()).isEqualTo(Basis.MEASURED);
    assertThat(findings.drawdowns().get(1).end().seconds()).isCloseTo(48, within(0.5));
    double sum = findings.pours().stream().mapToDouble(pour -> pour.poured().grams()).sum();
    assertThat(sum).isCloseTo(TWICE.applyAsDouble(60), within(0.5));
  }
}
