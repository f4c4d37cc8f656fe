package pourwright.device.simulated;

import java.io.ByteArrayOutputStream;
import java.util.ArrayDeque;
import java.util.Optional;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.device.protocol.Encoder;
import pourwright.device.protocol.Profile;
import pourwright.device.replay.ArrivalSource;
import pourwright.rig.Place;
import pourwright.simulate.Weighing;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * One scale of a simulated run, saying its readings in the bytes of a profile. It heeds the
 * profile's tare and zero commands, and tells a quiet link as a real one would.
 */
public final class SimulatedScale implements ArrivalSource {
  /** A link this quiet is called lost, as a real transport does. */
  private static final long SILENCE_NANOS = 1_500_000_000L;

  private final Weighing simulation;
  private final Place place;
  private final Profile profile;
  private final Encoder encoder;
  private final ArrayDeque<Arrival> ready = new ArrayDeque<>();

  private boolean hasReading;
  private long lastNanos = Long.MIN_VALUE;

  /**
   * @param simulation of its own: scales of one run have one each, of the same seed
   * @param place which of the rig's scales this is
   */
  public SimulatedScale(Weighing simulation, Place place, Profile profile) {
    if (!simulation.rig().places().contains(place)) {
      throw new IllegalArgumentException(
          "rig " + simulation.rig().word() + " has no scale at " + place.word());
    }
    this.simulation = simulation;
    this.place = place;
    this.profile = profile;
    this.encoder = profile.newEncoder();
  }

  @Override
  public synchronized Optional<Arrival> next() {
    if (ready.isEmpty()) {
      fill();
    }
    return Optional.ofNullable(ready.poll());
  }

  /** Readings that came together are one chunk. */
  private void fill() {
    if (!hasReading && !advance()) {
      return;
    }
    long nanos = simulation.nanos();
    if (lastNanos != Long.MIN_VALUE && nanos - lastNanos > SILENCE_NANOS) {
      SessionTime told = stamp(lastNanos + SILENCE_NANOS);
      ready.add(new Arrival.Lost(told, "the simulated link is quiet; it will be back by itself"));
      ready.add(new Arrival.Restored(stamp(nanos)));
    }
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    do {
      Bytes said = encoder.weight(Mass.ofNanograms(simulation.nanograms()), simulation.stability());
      bytes.writeBytes(said.toArray());
      hasReading = advance();
    } while (hasReading && simulation.nanos() == nanos);
    lastNanos = nanos;
    ready.add(new Arrival.Received(new Chunk(stamp(nanos), Bytes.copyOf(bytes.toByteArray()))));
  }

  /** As the clock of a rehearsal stamps, see {@link pourwright.device.SessionClock}. */
  private static SessionTime stamp(long nanos) {
    return SessionTime.ofMicros(nanos / 1_000);
  }

  private boolean advance() {
    while (simulation.advance()) {
      if (simulation.place() == place) {
        return true;
      }
    }
    return false;
  }

  @Override
  public synchronized void heed(Bytes command) {
    Optional<Bytes> given = Optional.of(command);
    if (given.equals(profile.commands().tare()) || given.equals(profile.commands().zero())) {
      simulation.tare(place);
    }
  }
}
