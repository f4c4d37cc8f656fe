package pourwright.cli;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.device.Bytes;
import pourwright.device.LineSettings;
import pourwright.device.SessionClock;
import pourwright.device.Transport.Arrival;
import pourwright.device.protocol.Profile;
import pourwright.device.protocol.Recognition;
import pourwright.device.protocol.Recognition.Capture;
import pourwright.device.protocol.Recognition.Fit;
import pourwright.device.serial.SerialTransport;

/** Finds out how to read the scale on a port by trying line settings and profiles on it. */
final class Listening {
  /** Long enough for four readings of a slow scale; own choice. */
  private static final Duration EACH = Duration.ofMillis(1500);

  /** Once a profile is this sure, no more settings are tried; own choice. */
  private static final double SURE = 0.8;

  private static final int MOST_SHOWN = 3;

  private final String port;
  private final List<Profile> profiles;
  private final PrintWriter err;

  /**
   * @param err told which settings are tried
   */
  Listening(String port, List<Profile> profiles, PrintWriter err) {
    this.port = port;
    this.profiles = profiles;
    this.err = err;
  }

  /**
   * Listens until one profile is sure or everything was tried.
   *
   * @return those that read any weight, the surest first; never empty
   * @throws Failure when the port cannot be had, nothing comes, or nothing that comes is a weight
   */
  List<Fit> fits() throws Failure, InterruptedException {
    List<Capture> captures = new ArrayList<>();
    List<Fit> fits = List.of();
    for (LineSettings line : Recognition.linksToTry(profiles)) {
      err.println("listening at " + line);
      err.flush();
      captures.add(new Capture(line, heard(line)));
      fits = Recognition.rank(captures, profiles);
      if (!fits.isEmpty() && fits.get(0).confidence() >= SURE) {
        break;
      }
    }
    if (captures.stream().allMatch(capture -> capture.bytes().size() == 0)) {
      throw new Failure(
          port
              + ": nothing came at any setting; is the scale switched on and set to send by itself"
              + " (often called continuous output)?");
    }
    if (fits.isEmpty()) {
      throw new Failure(
          port + ": bytes come, but no profile reads them; hardware-notes tells how to write one");
    }
    return fits;
  }

  private Bytes heard(LineSettings line) throws Failure, InterruptedException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (SerialTransport transport =
        SerialTransport.open(port, line, Optional.empty(), SessionClock.start())) {
      Arrival arrival = transport.receive(EACH);
      while (arrival.at().nanos() < EACH.toNanos()) {
        if (arrival instanceof Arrival.Received received) {
          bytes.writeBytes(received.chunk().bytes().toArray());
        }
        arrival =
            transport.receive(Duration.ofNanos(Math.max(1, EACH.toNanos() - arrival.at().nanos())));
      }
    } catch (IOException refused) {
      throw new Failure(String.valueOf(refused.getMessage()), refused);
    }
    return Bytes.copyOf(bytes.toByteArray());
  }

  /** What was found, and how to name the scale. */
  String text(List<Fit> fits) {
    StringBuilder text = new StringBuilder();
    for (Fit fit : fits.subList(0, Math.min(MOST_SHOWN, fits.size()))) {
      text.append(
          String.format(
              Locale.ROOT,
              "%3.0f %% sure: %s at %s, %d weights, the last %s; %.0f %% of the bytes fit%n",
              100 * fit.confidence(),
              fit.profile().name(),
              fit.link(),
              fit.weights(),
              Words.grams(fit.last()),
              100 * fit.goodShare()));
    }
    return text.append("Name it so:  --scale '")
        .append(address(fits.get(0)))
        .append("'\n")
        .toString();
  }

  private String address(Fit fit) {
    LineSettings usual = fit.profile().link();
    LineSettings line = fit.link();
    StringBuilder address = new StringBuilder("serial:" + port + "?profile=");
    address.append(fit.profile().name());
    if (line.baud() != usual.baud()) {
      address.append("&baud=").append(line.baud());
    }
    if (line.dataBits() != usual.dataBits()) {
      address.append("&bits=").append(line.dataBits());
    }
    if (line.parity() != usual.parity()) {
      address.append("&parity=").append(line.parity().name().toLowerCase(Locale.ROOT));
    }
    if (line.stopBits() != usual.stopBits()) {
      address.append("&stop=").append(line.stopBits());
    }
    return address.toString();
  }
}
