package pourwright.cli;

import java.nio.file.Path;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import pourwright.record.DataFolder;

/** What everything that is run with a page and kept can be told. */
class RunOptions {
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

  @Mixin private PageOptions page = new PageOptions();

  final PageOptions page() {
    return page;
  }

  final DataFolder data() {
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

  final Format format() {
    return format;
  }

  final boolean isByLine() {
    return isByLine;
  }
}
