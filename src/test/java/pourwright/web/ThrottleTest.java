package pourwright.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class ThrottleTest {
  @Test
  void a_burst_passes_and_then_the_steady_rate() {
    AtomicLong clock = new AtomicLong();
    Throttle throttle = new Throttle(3, 2, clock::get);
    assertThat(passed(throttle, 10)).isEqualTo(3);
    clock.addAndGet(1_000_000_000L);
    assertThat(passed(throttle, 10)).isEqualTo(2);
    clock.addAndGet(3_600_000_000_000L);
    assertThat(passed(throttle, 10)).isEqualTo(3);
  }

  private static int passed(Throttle throttle, int tries) {
    int passed = 0;
    for (int i = 0; i < tries; i++) {
      passed += throttle.tryPass() ? 1 : 0;
    }
    return passed;
  }
}
