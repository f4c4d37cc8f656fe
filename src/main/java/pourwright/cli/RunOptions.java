package pourwright.cli;

import java.nio.file.Path;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import pourwright.record.DataFolder;

/** What every live run can be told. */
final class RunOptions {
  @Option(
      names = "--data",
      paramLabel = "DIR",
      description =
          "Where runs, own profiles and logs are kept. Else $POURWRIGHT_DATA, else the usual "
              + "place for a program's data.")
  private @Nullable Path data;

  @Option(
      names = "--format",
      paramLabel = "FORMAT",
      defaultValue = "text",
      description = "How the result is printed at the end: text or json.")
  private Format format = Format.TEXT;

  @Option(
      names = "--lines",
      description = "Tell the run line by line instead of drawing on the terminal.")
  private boolean isByLine;

  @Option(
      names = "--sound",
      description = "Sound the cues on this machine too, for a run without a page.")
  private boolean isHeard;

  @Mixin private BluetoothOptions bluetooth = new BluetoothOptions();

  @Mixin private PageOptions page = new PageOptions();

  BluetoothOptions bluetooth() {
    return bluetooth;
  }

  PageOptions page() {
    return page;
  }

  DataFolder data() {
    return dataFolder(Optional.ofNullable(data));
  }

  /**
   * @param named by the command line
   */
  static DataFolder dataFolder(Optional<Path> named) {
    return DataFolder.find(
        named,
        System.getenv(),
        Path.of(System.getProperty("user.home", ".")),
        System.getProperty("os.name", ""));
  }

  Format format() {
    return format;
  }

  boolean isHeard() {
    return isHeard;
  }

  boolean isByLine() {
    return isByLine;
  }
}
