package pourwright.bed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import pourwright.units.Mass;
import pourwright.units.SessionTime;
import pourwright.water.Water;

class DrainageTest {
  private static final Water HOT = Water.atCelsius(92);
  private static final Shape.FlatBottom FLAT = new Shape.FlatBottom(0.035);
  private static final Bed FLAT_BED = Bed.ofDose(FLAT, Mass.ofGrams(16));
  private static final double OPEN = 2e-11;

  private static Poured pour(double start, double end, double grams) {
    return new Poured(
        SessionTime.ofSeconds(start), SessionTime.ofSeconds(end), Mass.ofGrams(grams));
  }

  private static double drained(Drainage drainage, int pour) {
    return drainage.listDrained().get(pour - 1).orElseThrow().seconds();
  }

  @Test
  void flat_bottom_drains_by_the_closed_form() {
    // poured at once, so that nothing drains while it comes in
    Drainage drainage = Drainage.of(FLAT_BED, pour -> OPEN, HOT, List.of(pour(0, 1e-6, 90)));

    double bedMetres = FLAT.depthMetres(FLAT_BED.millilitres());
    double surface = bedMetres + FLAT.depthMetres(HOT.millilitres(Mass.ofGrams(90)));
    double expected =
        FallingHead.ofVessel(Math.PI * 0.035 * 0.035, bedMetres)
            .seconds(surface, bedMetres, PackedBed.conductivity(OPEN, HOT));
    assertThat(drained(drainage, 1)).isCloseTo(expected, within(1e-4 * expected));
  }

  @Test
  void levels_fall_by_the_closed_form_too() {
    Drainage drainage = Drainage.of(FLAT_BED, pour -> OPEN, HOT, List.of(pour(0, 1e-6, 90)));

    double bedMetres = FLAT.depthMetres(FLAT_BED.millilitres());
    FallingHead closed = FallingHead.ofVessel(Math.PI * 0.035 * 0.035, bedMetres);
    double surface = bedMetres + FLAT.depthMetres(HOT.millilitres(Mass.ofGrams(90)));
    for (Drainage.Level level : drainage.listLevels().subList(2, 10)) {
      double head =
          closed.headMetres(surface, level.at().seconds(), PackedBed.conductivity(OPEN, HOT));
      assertThat(level.slurryMetres()).isCloseTo(head - bedMetres, within(1e-6));
    }
  }

  @Test
  void drain_time_goes_with_the_kinematic_viscosity() {
    Water cold = Water.atCelsius(20);
    // the same volume of hot and of cold water
    Mass hotMass = HOT.mass(80);
    Mass coldMass = cold.mass(80);
    Drainage hot =
        Drainage.of(FLAT_BED, pour -> OPEN, HOT, List.of(pour(0, 1e-6, hotMass.grams())));
    Drainage slow =
        Drainage.of(FLAT_BED, pour -> OPEN, cold, List.of(pour(0, 1e-6, coldMass.grams())));

    assertThat(drained(hot, 1) / drained(slow, 1))
        .isCloseTo(HOT.squareMetresPerSecond() / cold.squareMetresPerSecond(), within(1e-6));
  }

  @Test
  void water_is_neither_made_nor_lost() {
    Bed cone = Bed.ofDose(Shape.Cone.ofDegrees(60, 0.008), Mass.ofGrams(16));
    Drainage drainage =
        Drainage.of(cone, pour -> OPEN, HOT, List.of(pour(0, 8, 42), pour(45, 56, 66)));

    List<Drainage.Level> levels = drainage.listLevels();
    Drainage.Level last = levels.get(levels.size() - 1);
    assertThat(last.standing().grams()).isCloseTo(0, within(1e-6));
    assertThat(last.served().grams()).isCloseTo(42 + 66 - 32, within(1e-4));
    assertThat(levels).isSortedAccordingTo((one, other) -> one.at().compareTo(other.at()));
    assertThat(levels)
        .allSatisfy(level -> assertThat(level.standing().grams()).isGreaterThanOrEqualTo(-1e-6));
  }

  @Test
  void the_first_water_stays_in_the_grounds() {
    Drainage drainage = Drainage.of(FLAT_BED, pour -> OPEN, HOT, List.of(pour(0, 6, 30)));

    assertThat(drainage.listLevels())
        .allSatisfy(level -> assertThat(level.served()).isEqualTo(Mass.ZERO));
  }

  @Test
  void a_pour_that_comes_before_the_bed_is_dry_leaves_no_drained_moment() {
    Drainage drainage =
        Drainage.of(FLAT_BED, pour -> OPEN, HOT, List.of(pour(0, 10, 90), pour(13, 20, 60)));

    assertThat(drainage.listDrained().get(0)).isEmpty();
    assertThat(drained(drainage, 2)).isGreaterThan(20);
  }

  @Test
  void a_bed_that_keeps_up_is_dry_when_the_pour_ends() {
    Drainage drainage = Drainage.of(FLAT_BED, pour -> 1e-8, HOT, List.of(pour(0, 10, 40)));

    assertThat(drainage.listDrained()).containsExactly(Optional.of(SessionTime.ofSeconds(10)));
  }

  @Test
  void a_closing_bed_drains_slower_every_time() {
    Permeability closing = pour -> OPEN * Math.exp(-0.2 * (pour - 1));
    Drainage drainage =
        Drainage.of(
            FLAT_BED,
            closing,
            HOT,
            List.of(pour(0, 10, 60), pour(200, 210, 60), pour(400, 410, 60)));

    double first = drained(drainage, 1) - 10;
    double second = drained(drainage, 2) - 210;
    double third = drained(drainage, 3) - 410;
    assertThat(second).isGreaterThan(first);
    assertThat(third).isGreaterThan(second);
  }

  @Test
  void pours_without_length_and_beds_without_room_are_refused() {
    assertThatThrownBy(() -> pour(5, 5, 10)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> pour(5, 6, -1)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Bed(FLAT, 0, Mass.ZERO))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Bed(FLAT, 10, Mass.ofGrams(-1)))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new FallingHead(0, 1, 1)).isInstanceOf(IllegalArgumentException.class);
  }
}
