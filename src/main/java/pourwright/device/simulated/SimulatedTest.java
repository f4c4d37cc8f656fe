package pourwright.device.simulated;

import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import pourwright.check.Ask;
import pourwright.check.Notice;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Transport.Arrival;
import pourwright.device.protocol.Encoder;
import pourwright.device.protocol.Profile;
import pourwright.device.replay.ArrivalSource;
import pourwright.reading.Reading;
import pourwright.simulate.CheckingHand;
import pourwright.simulate.TestedScale;
import pourwright.units.SessionTime;

/** A simulated scale under check, saying its readings in the bytes of a profile. */
public final class SimulatedTest implements ArrivalSource {
  /** A link this quiet is called lost, as a real transport does. */
  private static final long SILENCE_NANOS = 1_500_000_000L;

  private final TestedScale scale;
  private final CheckingHand hand;
  private final Profile profile;
  private final Encoder encoder;
  private final ArrayDeque<Arrival> ready = new ArrayDeque<>();
  private long lastNanos;

  public SimulatedTest(TestedScale scale, CheckingHand hand, Profile profile) {
    this.scale = scale;
    this.hand = hand;
    this.profile = profile;
    this.encoder = profile.newEncoder();
  }

  /** Tells the hand what the check says. */
  public synchronized void hear(List<Notice> notices, Ask ask) {
    hand.hear(notices, ask);
  }

  @Override
  public synchronized Optional<Arrival> next() {
    if (ready.isEmpty() && scale.advance()) {
      Reading reading = scale.reading();
      long nanos = reading.at().nanos();
      if (nanos - lastNanos > SILENCE_NANOS) {
        SessionTime told = SessionTime.ofNanos(lastNanos + SILENCE_NANOS);
        ready.add(new Arrival.Lost(told, "the simulated scale is off"));
        ready.add(new Arrival.Restored(reading.at()));
      }
      lastNanos = nanos;
      Bytes said = encoder.weight(reading.mass(), reading.stability());
      ready.add(new Arrival.Received(new Chunk(reading.at(), said)));
    }
    return Optional.ofNullable(ready.poll());
  }

  @Override
  public synchronized void heed(Bytes command) {
    Optional<Bytes> given = Optional.of(command);
    if (given.equals(profile.commands().tare()) || given.equals(profile.commands().zero())) {
      scale.tare();
    }
  }
}
