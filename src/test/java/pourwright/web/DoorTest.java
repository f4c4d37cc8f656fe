package pourwright.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.web.Door.Answer;

class DoorTest {
  private static final String LAN = "192.168.7.5:7264";

  private final Door door =
      new Door(Set.of("127.0.0.1:7264", "localhost:7264", LAN), "secret"::equals);

  private static Knock own(String method, String path) {
    return new Knock(
        method,
        path,
        "localhost:7264",
        Optional.empty(),
        Optional.empty(),
        false,
        true,
        Optional.empty());
  }

  private static Knock fromAfar(String method, String path, Optional<String> token) {
    return new Knock(method, path, LAN, Optional.empty(), Optional.empty(), false, false, token);
  }

  private static Knock with(Knock knock, String host, String origin, String fetchSite) {
    return new Knock(
        knock.method(),
        knock.path(),
        host,
        Optional.ofNullable(origin.isEmpty() ? null : origin),
        Optional.ofNullable(fetchSite.isEmpty() ? null : fetchSite),
        knock.isUpgrade(),
        knock.isOwnMachine(),
        knock.token());
  }

  private int refused(Knock knock) {
    return door.judge(knock) instanceof Answer.StayOut out ? out.status() : 0;
  }

  @Test
  void the_own_machine_comes_in_by_every_name_of_it() {
    assertThat(door.judge(own("GET", "/"))).isInstanceOf(Answer.ComeIn.class);
    assertThat(refused(with(own("POST", "/api/v1/commands"), "127.0.0.1:7264", "", ""))).isZero();
    assertThat(refused(with(own("GET", "/"), "LocalHost:7264", "", ""))).isZero();
  }

  @ParameterizedTest
  @ValueSource(strings = {"evil.example:7264", "localhost", "localhost:80", "127.0.0.1:7264.evil"})
  void a_foreign_name_pointed_at_this_machine_is_turned_away(String host) {
    assertThat(refused(with(own("GET", "/api/v1/view"), host, "", ""))).isEqualTo(421);
  }

  @Test
  void no_host_at_all_is_a_bad_request() {
    assertThat(refused(with(own("GET", "/"), "", "", ""))).isEqualTo(400);
  }

  @ParameterizedTest
  @CsvSource({
    "http://evil.example",
    "null",
    "http://localhost:7265",
    "https://localhost:7264",
    "http://127.0.0.1:7264"
  })
  void another_origin_may_neither_post_nor_open_the_stream(String origin) {
    assertThat(refused(with(own("POST", "/api/v1/commands"), "localhost:7264", origin, "")))
        .isEqualTo(403);
    Knock upgrade =
        new Knock(
            "GET",
            "/api/v1/live",
            "localhost:7264",
            Optional.of(origin),
            Optional.empty(),
            true,
            true,
            Optional.empty());
    assertThat(refused(upgrade)).isEqualTo(403);
  }

  @Test
  void the_page_itself_may_do_all() {
    String own = "http://localhost:7264";
    assertThat(refused(with(own("POST", "/api/v1/commands"), "localhost:7264", own, "same-origin")))
        .isZero();
  }

  @ParameterizedTest
  @ValueSource(strings = {"cross-site", "same-site"})
  void what_a_browser_calls_foreign_gets_no_data_even_without_origin(String site) {
    assertThat(refused(with(own("GET", "/api/v1/view"), "localhost:7264", "", site)))
        .isEqualTo(403);
    // A link from another page may open this one: it carries nothing and reads nothing.
    assertThat(refused(with(own("GET", "/"), "localhost:7264", "", site))).isZero();
  }

  @Test
  void an_unpaired_device_sees_the_pairing_page_and_no_data() {
    assertThat(door.judge(fromAfar("GET", "/", Optional.empty())))
        .isInstanceOf(Answer.PairFirst.class);
    assertThat(refused(fromAfar("GET", "/page.css", Optional.empty()))).isZero();
    assertThat(refused(fromAfar("POST", "/api/v1/pairing", Optional.empty()))).isZero();
    for (String path : new String[] {"view", "run", "outcome", "live", "sounds", "pairing"}) {
      assertThat(refused(fromAfar("GET", "/api/v1/" + path, Optional.empty())))
          .as(path)
          .isEqualTo(401);
    }
    assertThat(refused(fromAfar("POST", "/api/v1/commands", Optional.of("guess")))).isEqualTo(401);
  }

  @Test
  void a_paired_device_comes_in() {
    assertThat(refused(fromAfar("GET", "/api/v1/live", Optional.of("secret")))).isZero();
    assertThat(door.judge(fromAfar("GET", "/", Optional.of("secret"))))
        .isInstanceOf(Answer.ComeIn.class);
  }
}
