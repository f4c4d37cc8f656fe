package pourwright.device.serial;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import pourwright.device.Bytes;
import pourwright.device.LineSettings;
import pourwright.device.LineSettings.FlowControl;

/** One serial port while it is open. */
final class OpenPort implements AutoCloseable {
  /** Longest wait for a byte, and so the longest until a closing program is heard. */
  private static final int READ_TIMEOUT_MILLIS = 100;

  private static final int WRITE_TIMEOUT_MILLIS = 500;
  private static final int BUFFER_BYTES = 4096;
  private static final boolean HAS_DEVICE_FILES = File.separatorChar == '/';

  private final String path;
  private final SerialPort port;
  private final Optional<Path> device;
  private final byte[] buffer = new byte[BUFFER_BYTES];

  private OpenPort(String path, SerialPort port, Optional<Path> device) {
    this.path = path;
    this.port = port;
    this.device = device;
  }

  /**
   * Opens a port for this program alone.
   *
   * @throws IOException when it cannot be had; the message is one plain sentence that names it
   */
  static OpenPort open(String path, LineSettings line) throws IOException {
    if (HAS_DEVICE_FILES && !Files.exists(Path.of(path))) {
      throw new IOException(noSuchPort(path));
    }
    Optional<Path> device = findDevice(path);
    SerialPort port;
    try {
      port = SerialPort.getCommPort(path);
    } catch (SerialPortInvalidPortException e) {
      throw new IOException(noSuchPort(path), e);
    }
    port.setComPortParameters(line.baud(), line.dataBits(), stopBits(line), parity(line.parity()));
    port.setFlowControl(flowControl(line.flowControl()));
    port.setComPortTimeouts(
        SerialPort.TIMEOUT_READ_SEMI_BLOCKING | SerialPort.TIMEOUT_WRITE_BLOCKING,
        READ_TIMEOUT_MILLIS,
        WRITE_TIMEOUT_MILLIS);
    if (!port.openPort()) {
      throw new IOException(whyNot(path, port.getLastErrorCode()));
    }
    return new OpenPort(path, port, device);
  }

  /** Where {@code path} leads now; empty where ports are no files. */
  private static Optional<Path> findDevice(String path) throws IOException {
    return HAS_DEVICE_FILES ? Optional.of(Path.of(path).toRealPath()) : Optional.empty();
  }

  /**
   * Waits a moment for bytes.
   *
   * @return none when nothing came
   * @throws IOException when the device has gone
   */
  Bytes read() throws IOException {
    int count = port.readBytes(buffer, buffer.length);
    if (count < 0) {
      throw new IOException("port " + path + " was unplugged; plug it in again");
    }
    return count == 0 ? Bytes.NONE : Bytes.copyOf(buffer, 0, count);
  }

  /** Whether the path no longer leads to the device that was opened. */
  boolean isGone() {
    try {
      return device.isPresent() && !findDevice(path).equals(device);
    } catch (IOException gone) {
      return true;
    }
  }

  void write(Bytes bytes) throws IOException {
    byte[] out = bytes.toArray();
    if (port.writeBytes(out, out.length) != out.length) {
      throw new IOException("port " + path + " did not take a command");
    }
  }

  @Override
  public void close() {
    port.closePort();
  }

  private static String noSuchPort(String path) {
    return "port "
        + path
        + " is not there; plug the scale in, or list the ports with: pourwright scales";
  }

  private static String whyNot(String path, int code) {
    return "port " + path + " " + (HAS_DEVICE_FILES ? whyNotOnUnix(code) : whyNotOnWindows(code));
  }

  /**
   * By the error numbers that Linux and macOS share; the library says 2 for a port that this very
   * program holds, and a port that is missing has been told before.
   */
  private static String whyNotOnUnix(int code) {
    return switch (code) {
      case 1, 13 ->
          "may not be opened; on Linux join the group that owns it (often dialout or uucp)"
              + " and log in again";
      case 2, 11, 16, 35 -> "is in use by another program; close that program";
      case 6, 19 -> "is not there; plug the scale in, or list the ports with: pourwright scales";
      case 22, 25 -> "is no serial port, or does not know these line settings";
      default -> "could not be opened (system error " + code + ")";
    };
  }

  private static String whyNotOnWindows(int code) {
    return switch (code) {
      case 2 -> "is not there; plug the scale in, or list the ports with: pourwright scales";
      case 5 -> "is in use by another program; close that program";
      case 87 -> "does not know these line settings";
      default -> "could not be opened (system error " + code + ")";
    };
  }

  private static int stopBits(LineSettings line) {
    return line.stopBits() == 2 ? SerialPort.TWO_STOP_BITS : SerialPort.ONE_STOP_BIT;
  }

  private static int parity(LineSettings.Parity parity) {
    return switch (parity) {
      case NONE -> SerialPort.NO_PARITY;
      case ODD -> SerialPort.ODD_PARITY;
      case EVEN -> SerialPort.EVEN_PARITY;
      case MARK -> SerialPort.MARK_PARITY;
      case SPACE -> SerialPort.SPACE_PARITY;
    };
  }

  private static int flowControl(FlowControl flow) {
    return switch (flow) {
      case NONE -> SerialPort.FLOW_CONTROL_DISABLED;
      case RTS_CTS -> SerialPort.FLOW_CONTROL_RTS_ENABLED | SerialPort.FLOW_CONTROL_CTS_ENABLED;
      case XON_XOFF ->
          SerialPort.FLOW_CONTROL_XONXOFF_IN_ENABLED | SerialPort.FLOW_CONTROL_XONXOFF_OUT_ENABLED;
    };
  }
}
