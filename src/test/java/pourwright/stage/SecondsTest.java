package pourwright.stage;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Set;
import java.util.SplittableRandom;
import java.util.TreeSet;
import java.util.stream.LongStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class SecondsTest {
  static LongStream seeds() {
    return LongStream.range(0, 40);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void a_set_of_seconds_holds_what_a_plain_set_holds(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    int reach = random.nextInt(1, 300);
    Seconds one = Seconds.within(reach);
    Seconds other = Seconds.within(reach);
    Set<Integer> plainOne = fill(one, reach, random);
    Set<Integer> plainOther = fill(other, reach, random);
    assertSame(one, plainOne, reach);
    Seconds kept = one.copy();
    int later = random.nextInt(-reach, reach + 1);
    one.retainLater(other, later);
    plainOne.removeIf(second -> !plainOther.contains(second - later));
    assertSame(one, plainOne, reach);
    kept.retainLater(kept.copy(), 0);
    assertSame(other, plainOther, reach);
  }

  private static Set<Integer> fill(Seconds seconds, int reach, SplittableRandom random) {
    Set<Integer> plain = new TreeSet<>();
    for (int i = 0; i < 12; i++) {
      int from = random.nextInt(-reach, reach + 1);
      int to = Math.min(reach, from + random.nextInt(0, 40));
      boolean isAdded = random.nextInt(3) > 0;
      if (isAdded) {
        seconds.add(from, to);
      } else {
        seconds.remove(from, to);
      }
      for (int second = from; second <= to; second++) {
        if (isAdded) {
          plain.add(second);
        } else {
          plain.remove(second);
        }
      }
    }
    return plain;
  }

  private static void assertSame(Seconds seconds, Set<Integer> plain, int reach) {
    Set<Integer> walked = new TreeSet<>();
    for (int at = seconds.next(-reach - 5); at != Seconds.NONE; at = seconds.next(at + 1)) {
      walked.add(at);
    }
    assertThat(walked).isEqualTo(plain);
    for (int second = -reach; second <= reach; second++) {
      assertThat(seconds.has(second)).isEqualTo(plain.contains(second));
    }
    assertThat(seconds.has(-reach - 1_000)).isFalse();
    assertThat(seconds.has(reach + 1_000)).isFalse();
    assertThat(seconds.next(reach + 1_000)).isEqualTo(Seconds.NONE);
  }
}
