package pourwright.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

class ScheduleTest {
  private final Schedule schedule = Schedule.of(Plans.demo());

  @Test
  void pours_are_expected_by_clock_by_gap_and_by_drained_time() {
    assertThat(schedule.slots())
        .extracting(slot -> slot.start().seconds() + "–" + slot.end().seconds())
        .containsExactly("0.0–8.4", "48.0–59.0", "89.0–102.0", "130.0–143.0");
    assertThat(schedule.slots())
        .extracting(slot -> slot.from().grams() + "–" + slot.to().grams())
        .containsExactly("0.0–42.0", "42.0–108.0", "108.0–186.0", "186.0–264.0");
    assertThat(schedule.end()).isEqualTo(at(143));
  }

  @Test
  void planned_mass_rises_in_pours_and_rests_between() {
    assertThat(schedule.plannedMassAt(at(-1))).isEqualTo(Mass.ZERO);
    assertThat(schedule.plannedMassAt(at(0))).isEqualTo(Mass.ZERO);
    assertThat(schedule.plannedMassAt(at(4))).isEqualTo(grams(20));
    assertThat(schedule.plannedMassAt(at(8.4))).isEqualTo(grams(42));
    assertThat(schedule.plannedMassAt(at(48))).isEqualTo(grams(42));
    assertThat(schedule.plannedMassAt(at(49))).isEqualTo(grams(48));
    assertThat(schedule.plannedMassAt(at(9_999))).isEqualTo(grams(264));
  }

  @Test
  void planned_flow_is_that_of_the_running_pour() {
    assertThat(schedule.plannedFlowAt(at(0))).isEqualTo(Flow.ofGramsPerSecond(5));
    assertThat(schedule.plannedFlowAt(at(8.4))).isEqualTo(Flow.ZERO);
    assertThat(schedule.plannedFlowAt(at(58.9))).isEqualTo(Flow.ofGramsPerSecond(6));
    assertThat(schedule.plannedFlowAt(at(-0.1))).isEqualTo(Flow.ZERO);
  }

  @Test
  void corridor_is_late_and_light_to_early_and_heavy() {
    assertThat(schedule.corridorAt(at(0)))
        .isEqualTo(new Schedule.Corridor(Mass.ZERO, Mass.ZERO, grams(12)));
    assertThat(schedule.corridorAt(at(50)))
        .isEqualTo(new Schedule.Corridor(grams(40), grams(54), grams(68)));
    assertThat(schedule.corridorAt(at(300)))
        .isEqualTo(new Schedule.Corridor(grams(262), grams(264), grams(266)));
  }

  @Test
  void due_time_follows_what_has_happened() {
    SessionTime zero = schedule.clockZero(at(4));
    assertThat(zero).isEqualTo(at(4));
    assertThat(schedule.dueAt(1, zero, Optional.empty(), Optional.empty())).isEqualTo(at(4));
    assertThat(schedule.dueAt(2, zero, Optional.of(at(12)), Optional.empty())).isEqualTo(at(52));
    assertThat(schedule.dueAt(2, zero, Optional.empty(), Optional.of(at(57)))).isEqualTo(at(57));
    assertThat(schedule.dueAt(3, zero, Optional.of(at(70)), Optional.of(at(80))))
        .isEqualTo(at(100));
    assertThat(schedule.dueAt(3, zero, Optional.empty(), Optional.empty())).isEqualTo(at(93));
  }

  @Test
  void clock_reads_the_planned_start_when_the_first_water_lands() {
    Schedule late =
        Schedule.of(
            Plans.read(
                """
                format: 1
                title: late
                dose_g: 15
                water_g: 240
                pours: [{add_g: 240, flow_g_per_s: 6, start: {at_s: 5}}]
                """));
    assertThat(late.clockZero(at(20))).isEqualTo(at(15));
    assertThat(late.dueAt(1, at(15), Optional.empty(), Optional.empty())).isEqualTo(at(20));
  }

  private static SessionTime at(double seconds) {
    return SessionTime.ofSeconds(seconds);
  }

  private static Mass grams(double grams) {
    return Mass.ofGrams(grams);
  }
}
