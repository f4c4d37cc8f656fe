package pourwright.device;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Consumer;
import pourwright.device.Decoder.Decoded;
import pourwright.device.Transport.Arrival;
import pourwright.units.SessionTime;

/**
 * One connected scale: a way to its bytes, the decoder that fits them, the commands it knows, and a
 * tap that is given every raw chunk before anyone interprets it.
 */
public record Scale(
    Transport transport, Decoder decoder, ScaleCommands commands, Consumer<Chunk> tap)
    implements AutoCloseable {

  /**
   * Waits for what the scale says next, at most {@code patience}.
   *
   * @throws InterruptedException when the waiting thread is told to stop
   */
  public Heard listen(Duration patience) throws InterruptedException {
    Arrival arrival = transport.receive(patience);
    if (arrival instanceof Arrival.Received received) {
      tap.accept(received.chunk());
      return new Heard.Said(received.at(), decoder.feed(received.chunk()));
    }
    if (arrival instanceof Arrival.Charged charged) {
      return new Heard.Said(
          charged.at(),
          List.of(new Decoded.Told(charged.at(), OptionalInt.of(charged.batteryPercent()))));
    }
    if (arrival instanceof Arrival.Lost lost) {
      decoder.reset();
      return new Heard.Gone(lost.at(), lost.why());
    }
    if (arrival instanceof Arrival.Restored back) {
      decoder.reset();
      return new Heard.Back(back.at());
    }
    if (arrival instanceof Arrival.Ended ended) {
      return new Heard.Over(ended.at());
    }
    return new Heard.Nothing(arrival.at());
  }

  /**
   * Asks the scale to take its present weight as zero.
   *
   * @return false when this kind of scale has no such command; the brewer then presses its key
   * @throws IOException when the command could not be sent
   */
  public boolean tare() throws IOException {
    Optional<Bytes> command = commands.tare();
    if (command.isEmpty()) {
      return false;
    }
    transport.send(command.get());
    return true;
  }

  @Override
  public void close() {
    transport.close();
  }

  /** What the scale said, or that it said nothing. */
  public sealed interface Heard {
    SessionTime at();

    record Said(SessionTime at, List<Decoded> inOrder) implements Heard {}

    record Nothing(SessionTime at) implements Heard {}

    record Gone(SessionTime at, String why) implements Heard {}

    record Back(SessionTime at) implements Heard {}

    record Over(SessionTime at) implements Heard {}
  }
}
