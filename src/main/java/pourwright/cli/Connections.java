package pourwright.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import pourwright.device.BleSettings;
import pourwright.device.LineSettings;
import pourwright.device.ScaleAddress;
import pourwright.device.SessionClock;
import pourwright.device.ble.BleTransport;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.device.replay.PlayedTransport;
import pourwright.device.replay.Replay;
import pourwright.device.serial.SerialTransport;
import pourwright.device.simulated.SimulatedScale;
import pourwright.device.simulated.SimulatedTest;
import pourwright.plan.Plan;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.PlacedScale;
import pourwright.session.Stand;
import pourwright.simulate.CheckingHand;
import pourwright.simulate.Moments;
import pourwright.simulate.RovingSimulation;
import pourwright.simulate.Scenario;
import pourwright.simulate.Simulation;
import pourwright.simulate.TestScenario;
import pourwright.simulate.TestedScale;
import pourwright.simulate.Weighing;

/** Turns scale addresses into scales that can be listened to. */
final class Connections {
  /** Spoken by a simulated scale unless its address says otherwise; it has a tare command. */
  private static final String SIMULATED_PROFILE = "status-letter";

  private final Profiles profiles;
  private final SessionClock clock;
  private final BluetoothOptions bluetooth;
  private final Consumer<String> note;

  /**
   * @param clock stamps what is heard live
   * @param bluetooth how Bluetooth is reached
   * @param note told what a brewer should know about a scale before trusting it
   */
  Connections(
      Profiles profiles, SessionClock clock, BluetoothOptions bluetooth, Consumer<String> note) {
    this.profiles = profiles;
    this.clock = clock;
    this.bluetooth = bluetooth;
    this.note = note;
  }

  Profile profile(String name) throws Failure {
    Optional<Profile> found = profiles.find(name);
    if (found.isEmpty()) {
      throw new Failure(
          "there is no profile called " + name + "; `pourwright scales` lists those there are");
    }
    found.get().caution().ifPresent(caution -> note.accept("profile " + name + ": " + caution));
    return found.get();
  }

  /**
   * Connects to the scale at {@code text}.
   *
   * @param plan what a simulated brewer pours
   * @param moments when a simulated brewer pours it; empty: as the plan says
   */
  PlacedScale open(
      String text,
      ScaleAddress address,
      Stand stand,
      Rig rig,
      Optional<Plan> plan,
      Optional<Moments> moments)
      throws Failure {
    try {
      if (address instanceof ScaleAddress.Serial serial) {
        return serial(text, serial, stand);
      }
      if (address instanceof ScaleAddress.Ble ble) {
        return ble(text, ble, stand);
      }
      if (address instanceof ScaleAddress.Replay replay) {
        return replay(text, replay, stand);
      }
      return simulated(text, (ScaleAddress.Sim) address, stand, rig, plan, moments);
    } catch (IOException refused) {
      throw new Failure(String.valueOf(refused.getMessage()), refused);
    }
  }

  /**
   * Connects to a scale that is to be checked; a simulated one comes with the hand that does it.
   */
  CheckedScale openForCheck(String text, ScaleAddress address) throws Failure {
    Stand stand = new Stand(1, Place.WHOLE);
    if (!(address instanceof ScaleAddress.Sim sim)) {
      return new CheckedScale(
          open(text, address, stand, Rig.WHOLE, Optional.empty(), Optional.empty()),
          Optional.empty(),
          1);
    }
    TestScenario scenario =
        TestScenario.findByName(sim.name())
            .orElseThrow(
                () ->
                    new Failure(
                        "there is no simulated scale called "
                            + sim.name()
                            + "; there are "
                            + TestScenario.list().stream()
                                .map(TestScenario::name)
                                .collect(Collectors.joining(", "))));
    Profile profile = profile(sim.profile().orElse(SIMULATED_PROFILE));
    TestedScale scale = new TestedScale(scenario.traits(), scenario.flaws(), sim.seed());
    SimulatedTest test = new SimulatedTest(scale, new CheckingHand(scale, sim.seed()), profile);
    PlacedScale placed =
        new PlacedScale(
            stand,
            text,
            profile.name(),
            true,
            new PlayedTransport(test, sim.speed()),
            profile.newDecoder(),
            profile.commands());
    return new CheckedScale(placed, Optional.of(test), sim.speed());
  }

  /** Connects to the one scale that is moved between all brewers. */
  PlacedScale openMoved(Ensemble ensemble) throws Failure {
    Ensemble.Part first = ensemble.lanes().get(0);
    String text = first.texts().get(0);
    Stand stand = new Stand(ensemble.turns().get(0).lane(), Place.WHOLE);
    if (!(first.scales().get(0) instanceof ScaleAddress.Sim sim)) {
      return open(
          text, first.scales().get(0), stand, Rig.WHOLE, Optional.empty(), Optional.empty());
    }
    Profile profile = profile(sim.profile().orElse(SIMULATED_PROFILE));
    RovingSimulation simulation =
        new RovingSimulation(
            ensemble.lanes().stream()
                .map(
                    part ->
                        new RovingSimulation.Served(
                            part.plan().orElseThrow().plan(), part.moments().orElseThrow()))
                .toList(),
            ensemble.turns().stream()
                .map(turn -> new RovingSimulation.Visit(turn.lane() - 1, turn.pours()))
                .toList(),
            scenario(sim),
            sim.seed());
    return played(text, sim, stand, profile, simulation);
  }

  private PlacedScale serial(String text, ScaleAddress.Serial serial, Stand stand)
      throws IOException, Failure {
    Profile profile = profile(serial.profile());
    LineSettings line = serial.change().appliedTo(profile.link());
    return new PlacedScale(
        stand,
        text,
        profile.name(),
        false,
        SerialTransport.open(serial.port(), line, profile.commands().start(), clock),
        profile.newDecoder(),
        profile.commands());
  }

  private PlacedScale ble(String text, ScaleAddress.Ble ble, Stand stand)
      throws IOException, Failure {
    Profile profile = profile(ble.profile());
    BleSettings settings =
        profile
            .ble()
            .orElseThrow(
                () ->
                    new Failure(
                        "profile "
                            + profile.name()
                            + " is not for Bluetooth; `pourwright scales` lists those that are"));
    return new PlacedScale(
        stand,
        text,
        profile.name(),
        false,
        BleTransport.open(
            ble.device(),
            bluetooth.radio(),
            settings,
            profile.commands().start(),
            bluetooth.backend(),
            clock),
        profile.newDecoder(),
        profile.commands());
  }

  private PlacedScale replay(String text, ScaleAddress.Replay address, Stand stand)
      throws IOException, Failure {
    Replay replay = Replay.open(Path.of(address.file()), stand.place(), address.speed());
    replay.notes().forEach(note);
    Profile profile =
        profile(
            replay
                .profile()
                .orElseThrow(
                    () ->
                        new Failure(
                            address.file()
                                + ": does not say which profile reads it; add the line"
                                + " #profile: NAME at its top")));
    return new PlacedScale(
        stand,
        text,
        profile.name(),
        true,
        replay.transport(),
        profile.newDecoder(),
        profile.commands());
  }

  private PlacedScale simulated(
      String text,
      ScaleAddress.Sim sim,
      Stand stand,
      Rig rig,
      Optional<Plan> plan,
      Optional<Moments> moments)
      throws Failure {
    Plan poured =
        plan.orElseThrow(
            () -> new Failure(text + ": a simulated brewer needs a plan to pour; name one"));
    Profile profile = profile(sim.profile().orElse(SIMULATED_PROFILE));
    // each scale of a rig has a simulation of its own, which the same seed makes the same run
    Simulation simulation = new Simulation(poured, scenario(sim), rig, sim.seed(), moments);
    return played(text, sim, stand, profile, simulation);
  }

  private static PlacedScale played(
      String text, ScaleAddress.Sim sim, Stand stand, Profile profile, Weighing simulation) {
    return new PlacedScale(
        stand,
        text,
        profile.name(),
        true,
        new PlayedTransport(new SimulatedScale(simulation, stand.place(), profile), sim.speed()),
        profile.newDecoder(),
        profile.commands());
  }

  private static Scenario scenario(ScaleAddress.Sim sim) throws Failure {
    return Scenario.findByName(sim.name())
        .orElseThrow(
            () ->
                new Failure(
                    "there is no simulation called "
                        + sim.name()
                        + "; there are "
                        + Scenario.list().stream()
                            .map(Scenario::name)
                            .collect(Collectors.joining(", "))));
  }
}
