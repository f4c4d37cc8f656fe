package pourwright.device.ble.bluez;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class SignalOrderTest {
  private final SignalOrder order = new SignalOrder();

  @Test
  void numbers_may_be_left_out_but_not_overtaken_or_repeated() {
    assertThat(order.isNext(7)).isTrue();
    assertThat(order.isNext(9)).isTrue();
    assertThat(order.isNext(8)).isFalse();
    assertThat(order.isNext(9)).isFalse();
    assertThat(order.isNext(10)).isTrue();
  }

  @Test
  void numbers_wrap_after_32_bits() {
    assertThat(order.isNext(0xffff_fffeL)).isTrue();
    assertThat(order.isNext(0xffff_ffffL)).isTrue();
    assertThat(order.isNext(1)).isTrue();
    assertThat(order.isNext(0xffff_ffffL)).isFalse();
  }

  @Test
  void another_sender_counts_anew() {
    assertThat(order.isNext(5_000)).isTrue();
    order.restart();
    assertThat(order.isNext(3)).isTrue();
  }
}
