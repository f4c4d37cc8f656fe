package pourwright.device.serial;

import com.fazecast.jSerialComm.SerialPort;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/** The serial ports of this computer. */
public final class Ports {
  private Ports() {}

  /**
   * One port.
   *
   * @param path what to write after {@code serial:}
   * @param description what the operating system knows of it
   */
  public record Port(String path, String description) {}

  /** All ports that the operating system lists, by path; pseudo-terminals are not among them. */
  public static List<Port> list() {
    return Stream.of(SerialPort.getCommPorts())
        .map(port -> new Port(port.getSystemPortPath(), port.getDescriptivePortName()))
        .sorted(Comparator.comparing(Port::path))
        .toList();
  }
}
