package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class BlocksTest {

  /** Readings at 0, 0.1 and 0.2 s fill a quarter second; their means are 0.1 s and 2 g. */
  @Test
  void block_is_the_mean_of_its_weights() {
    Blocks blocks = new Blocks(0.25, 8);
    assertThat(blocks.add(0, 1, 0.1)).isFalse();
    assertThat(blocks.add(0.1, 2, 0.1)).isFalse();
    assertThat(blocks.add(0.2, 3, 0.1)).isTrue();
    assertThat(blocks.size()).isEqualTo(1);
    assertThat(blocks.inNewest()).isEqualTo(3);
    assertThat(blocks.time(0)).isCloseTo(0.1, within(1e-12));
    assertThat(blocks.mass(0)).isCloseTo(2, within(1e-12));
  }

  @Test
  void slow_weights_are_a_block_each_and_the_oldest_are_forgotten() {
    Blocks blocks = new Blocks(0.25, 4);
    for (int i = 0; i < 7; i++) {
      assertThat(blocks.add(i, 10 + i, 1)).isTrue();
    }
    assertThat(blocks.size()).isEqualTo(4);
    assertThat(blocks.mass(0)).isEqualTo(16);
    assertThat(blocks.mass(3)).isEqualTo(13);
    assertThat(blocks.countSince(4.5)).isEqualTo(2);
    assertThat(blocks.countSince(0)).isEqualTo(4);
  }

  @Test
  void cleared_memory_begins_again() {
    Blocks blocks = new Blocks(0.25, 4);
    blocks.add(0, 5, 1);
    blocks.add(1, 100, 0.1);
    blocks.clear();
    assertThat(blocks.size()).isZero();
    assertThat(blocks.add(2, 7, 1)).isTrue();
    assertThat(blocks.mass(0)).isEqualTo(7);
  }
}
