package pourwright.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import pourwright.web.Pairing.Result;

class PairingTest {
  private static final long MINUTE = 60_000_000_000L;

  private final AtomicLong clock = new AtomicLong();
  private final List<String> shown = new ArrayList<>();
  private final Pairing pairing = new Pairing(new Random(7), clock::get, shown::add);

  @Test
  void the_shown_code_pairs_one_device_and_is_then_another() {
    String code = pairing.code();
    Result result = pairing.offer(code);
    assertThat(result).isInstanceOf(Result.Paired.class);
    String token = ((Result.Paired) result).token();
    assertThat(token).hasSize(64);
    assertThat(pairing.isPaired(token)).isTrue();
    assertThat(pairing.offer(code)).isInstanceOf(Result.WrongCode.class);
    assertThat(shown).hasSize(2).first().isEqualTo(code);
    assertThat(shown.get(1)).isEqualTo(pairing.code()).isNotEqualTo(code);
  }

  @Test
  void blanks_hyphens_and_case_do_not_count() {
    String code = pairing.code().toLowerCase(Locale.ROOT);
    assertThat(pairing.offer(" " + code.substring(0, 3) + "-" + code.substring(3) + " "))
        .isInstanceOf(Result.Paired.class);
  }

  @Test
  void guessing_is_slowed_down() {
    for (int i = 0; i < 5; i++) {
      assertThat(pairing.offer("AAAAAA")).isInstanceOf(Result.WrongCode.class);
    }
    assertThat(pairing.offer(pairing.code())).isInstanceOf(Result.NotNow.class);
    clock.addAndGet(MINUTE);
    assertThat(pairing.offer(pairing.code())).isInstanceOf(Result.Paired.class);
  }

  @Test
  void after_twenty_wrong_tries_the_code_is_another() {
    String code = pairing.code();
    for (int i = 0; i < 20; i++) {
      clock.addAndGet(MINUTE);
      assertThat(pairing.offer("AAAAAA")).isInstanceOf(Result.WrongCode.class);
    }
    assertThat(pairing.code()).isNotEqualTo(code);
  }

  @Test
  void no_more_than_sixteen_devices() {
    for (int i = 0; i < 16; i++) {
      clock.addAndGet(MINUTE);
      assertThat(pairing.offer(pairing.code())).isInstanceOf(Result.Paired.class);
    }
    clock.addAndGet(MINUTE);
    assertThat(pairing.offer(pairing.code())).isInstanceOf(Result.NotNow.class);
  }

  @Test
  void codes_are_easy_to_read_and_tokens_differ() {
    assertThat(pairing.code()).matches("[2-9A-HJKMNP-TV-Z]{6}");
    Result first = pairing.offer(pairing.code());
    Result second = pairing.offer(pairing.code());
    assertThat(first).isNotEqualTo(second);
  }
}
