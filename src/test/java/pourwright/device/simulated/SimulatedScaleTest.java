package pourwright.device.simulated;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.device.Transport.Arrival;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.device.replay.PlayedTransport;
import pourwright.plan.Plan;
import pourwright.plan.Plans;
import pourwright.reading.Reading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.simulate.Scenario;
import pourwright.simulate.Simulation;
import pourwright.units.SessionTime;

class SimulatedScaleTest {
  private static final Plan PLAN = Plans.demo();

  private static Profile profile(String name) {
    return Profiles.shipped().find(name).orElseThrow();
  }

  private static Simulation simulation(String name, Rig rig) {
    return new Simulation(PLAN, Scenario.findByName(name).orElseThrow(), rig, 7);
  }

  private static List<Arrival> play(SimulatedScale scale) throws InterruptedException {
    PlayedTransport transport = new PlayedTransport(scale, 0);
    List<Arrival> all = new ArrayList<>();
    do {
      all.add(transport.receive(Duration.ZERO));
    } while (!(all.get(all.size() - 1) instanceof Arrival.Ended));
    return all;
  }

  private static List<Reading> decode(List<Arrival> arrivals, Decoder decoder) {
    List<Reading> readings = new ArrayList<>();
    for (Arrival arrival : arrivals) {
      if (arrival instanceof Arrival.Received received) {
        for (Decoded decoded : decoder.feed(received.chunk())) {
          if (decoded instanceof Decoded.Weighed weighed) {
            readings.add(weighed.reading());
          }
        }
      }
    }
    return readings;
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "bare-number",
        "number-unit",
        "status-comma",
        "status-letter",
        "control-frame",
        "binary-sum"
      })
  void what_is_decoded_is_what_was_simulated(String profile) throws Exception {
    List<Reading> said = new ArrayList<>();
    Simulation twin = simulation("bursts", Rig.SERVER);
    while (twin.advance()) {
      said.add(twin.reading());
    }
    Simulation simulated = simulation("bursts", Rig.SERVER);
    SimulatedScale scale = new SimulatedScale(simulated, Place.SERVER, profile(profile));
    List<Reading> heard = decode(play(scale), profile(profile).newDecoder());
    // A decoder that cannot know where a line begins leaves the first one out.
    int skipped = said.size() - heard.size();
    assertThat(skipped).isBetween(0, 1);
    for (int i = 0; i < heard.size(); i++) {
      long micros = said.get(i + skipped).at().nanos() / 1_000;
      assertThat(heard.get(i).at()).isEqualTo(SessionTime.ofMicros(micros));
      assertThat(heard.get(i).mass()).isEqualTo(said.get(i + skipped).mass());
    }
    assertThat(simulated.truth().pours()).hasSize(4);
  }

  @Test
  void both_scales_of_the_split_rig_tell_of_the_same_run() throws Exception {
    Simulation whole = simulation("stage", Rig.SPLIT);
    Simulation server = simulation("stage", Rig.SPLIT);
    play(new SimulatedScale(whole, Place.WHOLE, profile("number-unit")));
    play(new SimulatedScale(server, Place.SERVER, profile("number-unit")));
    assertThat(whole.truth()).isEqualTo(server.truth());
  }

  @Test
  void a_long_dropout_is_told_as_lost_and_restored() throws Exception {
    List<Arrival> all =
        play(
            new SimulatedScale(
                simulation("rough", Rig.WHOLE), Place.WHOLE, profile("number-unit")));
    assertThat(all).filteredOn(Arrival.Lost.class::isInstance).hasSize(1);
    assertThat(all).filteredOn(Arrival.Restored.class::isInstance).hasSize(1);
  }

  @Test
  void the_tare_command_is_heeded_and_others_are_not() throws Exception {
    Profile profile = profile("number-unit");
    Simulation simulated = simulation("bench", Rig.WHOLE);
    SimulatedScale scale = new SimulatedScale(simulated, Place.WHOLE, profile);
    scale.next();
    scale.heed(pourwright.device.Bytes.ofAscii("nonsense"));
    assertThat(simulated.truth().tares()).isEmpty();
    scale.heed(profile.commands().tare().orElseThrow());
    assertThat(simulated.truth().tares()).hasSize(1);
  }

  @Test
  void a_place_that_the_rig_does_not_weigh_is_refused() {
    assertThatThrownBy(
            () ->
                new SimulatedScale(
                    simulation("bench", Rig.WHOLE), Place.SERVER, profile("number-unit")))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
