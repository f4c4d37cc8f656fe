package pourwright.device.ble;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import pourwright.device.ble.gatt.Adapter;

class RadiosTest {
  private static Adapter radio(String name, boolean isOn) {
    return new Adapter(name, "00:00:00:00:00:00", isOn);
  }

  private static Radios of(Optional<String> wanted, Adapter... there) {
    Radios radios = new Radios(wanted);
    for (Adapter one : there) {
      radios.put(one);
    }
    return radios;
  }

  @Test
  void the_first_that_is_on_is_taken() {
    Radios radios = of(Optional.empty(), radio("hci1", true), radio("hci0", false));
    assertThat(radios.choose("", false)).hasValue("hci1");
    radios.put(radio("hci0", true));
    assertThat(radios.choose("", false)).hasValue("hci0");
  }

  @Test
  void the_one_in_use_stays_so_while_it_is_on() {
    Radios radios = of(Optional.empty(), radio("hci0", true), radio("hci1", true));
    assertThat(radios.choose("hci1", false)).hasValue("hci1");
    radios.remove("hci1");
    assertThat(radios.choose("hci1", false)).hasValue("hci0");
  }

  @Test
  void there_is_no_substitute_for_one_that_was_switched_off() {
    Radios radios = of(Optional.empty(), radio("hci0", true), radio("hci1", false));
    assertThat(radios.choose("hci1", false)).isEmpty();
    assertThat(radios.whyNone()).contains("switched off");
  }

  @Test
  void one_named_by_the_user_is_the_only_one() {
    Radios radios = of(Optional.of("hci1"), radio("hci0", true));
    assertThat(radios.choose("", false)).isEmpty();
    radios.put(radio("hci1", true));
    assertThat(radios.choose("", false)).hasValue("hci1");
  }

  @Test
  void the_one_that_the_scale_weighed_on_is_gone_back_to_unless_it_is_held_on_another() {
    Radios radios = of(Optional.empty(), radio("hci0", true), radio("hci1", true));
    radios.weighsOn("hci0");
    radios.remove("hci0");
    assertThat(radios.choose("hci0", false)).hasValue("hci1");
    radios.put(radio("hci0", true));
    assertThat(radios.choose("hci1", true)).hasValue("hci1");
    assertThat(radios.choose("hci1", false)).hasValue("hci0");
  }

  @Test
  void without_any_radio_it_says_so() {
    Radios radios = of(Optional.empty(), radio("hci0", true));
    radios.clear();
    assertThat(radios.choose("hci0", false)).isEmpty();
    assertThat(radios.whyNone()).contains("gone");
  }
}
