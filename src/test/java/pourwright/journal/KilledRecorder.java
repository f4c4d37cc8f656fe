package pourwright.journal;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;
import pourwright.coach.Feedback;
import pourwright.detect.DetectorSettings;
import pourwright.device.Bytes;
import pourwright.device.Transport.Arrival;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.device.replay.ArrivalSource;
import pourwright.device.replay.PlayedTransport;
import pourwright.device.simulated.SimulatedScale;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.PlacedScale;
import pourwright.session.Rehearsal;
import pourwright.session.RunStart;
import pourwright.session.Setup;
import pourwright.session.Stand;
import pourwright.simulate.Scenario;
import pourwright.simulate.Simulation;

/**
 * A program that records a simulated run in real time, as {@code rehearse} does, until it is
 * killed. Says on standard output the time (ns) of every chunk, before anyone else hears of it.
 */
final class KilledRecorder {
  private static final String PLAN =
      """
      format: 1
      title: Until killed
      dose_g: 16
      water_g: 100
      pours:
        - {add_g: 40, flow_g_per_s: 5.0, start: {at_s: 0}}
        - {add_g: 60, flow_g_per_s: 6.0, start: {at_s: 20}}
      """;

  private KilledRecorder() {}

  /** Says when each chunk comes. */
  private record Told(ArrivalSource source, PrintStream out, long startNanos)
      implements ArrivalSource {
    @Override
    public Optional<Arrival> next() throws IOException {
      Optional<Arrival> next = source.next();
      if (next.isPresent()) {
        waitFor(next.get().at().nanos());
        out.println(next.get().at().nanos());
      }
      return next;
    }

    /** Here and not in the transport, so that nothing is told before it happens. */
    private void waitFor(long nanos) {
      while (System.nanoTime() - startNanos < nanos) {
        LockSupport.parkNanos(nanos - (System.nanoTime() - startNanos));
      }
    }

    @Override
    public void heed(Bytes command) {
      source.heed(command);
    }
  }

  public static void main(String[] args) throws Exception {
    long seed = Long.parseLong(args[1]);
    PlanReading.Understood plan = (PlanReading.Understood) PlanReader.read(PLAN, "plan");
    Profile profile = Profiles.shipped().find("number-unit").orElseThrow();
    Stand stand = new Stand(1, Place.WHOLE);
    PrintStream out = new PrintStream(System.out, true, StandardCharsets.US_ASCII);
    try (JournalFile journal = JournalFile.open(Path.of(args[0]), out::println)) {
      journal.recover(Rehearsals::analyse);
      ArrivalSource scale =
          new Told(
              new SimulatedScale(
                  new Simulation(
                      plan.plan(), Scenario.findByName("board").orElseThrow(), Rig.WHOLE, seed),
                  Place.WHOLE,
                  profile),
              out,
              System.nanoTime());
      RunStart start =
          new RunStart(
              Instant.now(),
              "killed recorder",
              true,
              Feedback.FULL,
              0,
              List.of(
                  new RunStart.Lane(
                      1,
                      "nobody",
                      Rig.WHOLE,
                      Optional.of(new RunStart.WrittenPlan(PLAN, plan.plan())),
                      List.of(new RunStart.HeardScale(stand, "sim:board", profile.name())))));
      new Rehearsal(
              new Setup(
                  start,
                  List.of(DetectorSettings.standard()),
                  List.of(
                      new PlacedScale(
                          stand,
                          "sim:board",
                          profile.name(),
                          true,
                          new PlayedTransport(scale, 0),
                          profile.newDecoder(),
                          profile.commands())),
                  Setup.USUAL_IDLE_LIMIT),
              List.of(journal.record()),
              List.of())
          .run();
    }
  }
}
