package pourwright.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import org.junit.jupiter.api.Test;

class SessionTimeTest {

  @Test
  void times_and_differences_are_exact() {
    SessionTime start = SessionTime.ofSeconds(4.12);
    SessionTime later = start.plus(Duration.ofMillis(8_480));
    assertThat(later).isEqualTo(SessionTime.ofMillis(12_600)).hasToString("12.6 s");
    assertThat(later.since(start)).isEqualTo(Duration.ofMillis(8_480));
    assertThat(start.since(later)).isNegative();
    assertThat(later.secondsSince(start)).isEqualTo(8.48);
    assertThat(start.plusSeconds(8.48)).isEqualTo(later);
    assertThat(start.seconds()).isEqualTo(4.12);
    assertThat(SessionTime.ofNanos(4_120_000_000L)).isEqualTo(start);
  }

  @Test
  void before_and_after_exclude_the_same_moment() {
    SessionTime now = SessionTime.ofMillis(5);
    SessionTime then = SessionTime.ofMillis(6);
    assertThat(now.isBefore(then)).isTrue();
    assertThat(now.isBefore(now)).isFalse();
    assertThat(then.isAfter(now)).isTrue();
    assertThat(then.isAfter(then)).isFalse();
    assertThat(now).isLessThan(then);
  }

  @Test
  void a_microsecond_is_a_thousand_nanoseconds() {
    assertThat(SessionTime.ofMicros(1_500)).isEqualTo(SessionTime.ofNanos(1_500_000));
  }

  @Test
  void what_is_no_time_is_refused() {
    assertThatThrownBy(() -> SessionTime.ofSeconds(Double.NaN))
        .isInstanceOf(ArithmeticException.class)
        .hasMessageContaining("no such time");
    assertThatThrownBy(() -> SessionTime.ofSeconds(1e10)).isInstanceOf(ArithmeticException.class);
  }
}
