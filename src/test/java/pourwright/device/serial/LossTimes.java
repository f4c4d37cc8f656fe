package pourwright.device.serial;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.Optional;
import pourwright.device.LineSettings;
import pourwright.device.SessionClock;
import pourwright.device.Transport.Arrival;

/**
 * Prints, over real pseudo-terminals, how soon a pulled cable, its return and a silent scale are
 * noticed, and how long a byte takes from the scale to its taker.
 */
public final class LossTimes {
  private static final int ROUNDS = 20;

  private LossTimes() {}

  public static void main(String[] arguments) throws Exception {
    Path folder = Files.createTempDirectory("line");
    SessionClock clock = SessionClock.start();
    double[] byteSeconds = new double[ROUNDS];
    double[] pulled = new double[ROUNDS];
    double[] back = new double[ROUNDS];
    double[] silent = new double[ROUNDS];
    try (PseudoTerminal line = PseudoTerminal.plugged(folder.resolve("scale"));
        SerialTransport transport =
            SerialTransport.open(line.path(), LineSettings.COMMON, Optional.empty(), clock)) {
      for (int round = 0; round < ROUNDS; round++) {
        byteSeconds[round] = -clock.now().seconds();
        line.say("1");
        byteSeconds[round] += await(transport, Arrival.Received.class);
        silent[round] = -clock.now().seconds() + await(transport, Arrival.Lost.class);
        line.say("2");
        await(transport, Arrival.Received.class);
        pulled[round] = -clock.now().seconds();
        line.unplug();
        pulled[round] += await(transport, Arrival.Lost.class);
        back[round] = -clock.now().seconds();
        line.plug();
        line.say("3");
        back[round] += await(transport, Arrival.Received.class);
      }
    } finally {
      Files.deleteIfExists(folder);
    }
    print("byte to taker", byteSeconds);
    print("cable pulled to told", pulled);
    print("cable back to first byte", back);
    print("last byte to told silent", silent);
  }

  private static double await(SerialTransport transport, Class<? extends Arrival> wanted)
      throws InterruptedException {
    while (true) {
      Arrival arrival = transport.receive(Duration.ofSeconds(5));
      if (wanted.isInstance(arrival)) {
        return arrival.at().seconds();
      }
    }
  }

  private static void print(String what, double[] seconds) {
    Arrays.sort(seconds);
    System.out.printf(
        "%s: median %.4f s, longest %.4f s%n", what, seconds[ROUNDS / 2], seconds[ROUNDS - 1]);
  }
}
