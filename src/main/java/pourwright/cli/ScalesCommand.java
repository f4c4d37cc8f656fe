package pourwright.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Profile;
import pourwright.device.serial.Ports;
import pourwright.record.DataFolder;

/** What scales can be connected, and how they can be read. */
@Command(
    name = "scales",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "List ports and profiles, to find out how to name your scale.",
    description = {
      "",
      "A scale is named by how it is connected and the profile that reads it, such as "
          + "serial:/dev/ttyUSB0?profile=number-unit.",
      ""
    },
    sortOptions = false)
final class ScalesCommand implements Callable<Integer> {
  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "Data folder, whose folder profiles holds your own profiles.")
  private @Nullable Path data;

  @Option(
      names = "--listen",
      paramLabel = "PORT",
      description =
          "Listen on a port, try the usual line settings and every profile on what comes, and say "
              + "which fits and how sure that is.")
  private @Nullable String port;

  @Option(
      names = "--scan",
      description =
          "Look around for Bluetooth scales, for eight seconds, and say how to name them.")
  private boolean isScan;

  @Option(
      names = "--format",
      paramLabel = "FORMAT",
      defaultValue = "text",
      description = "With --scan: text, or json: one JSON document on standard output.")
  private Format format = Format.TEXT;

  @Mixin private BluetoothOptions bluetooth = new BluetoothOptions();

  @Spec private @Nullable CommandSpec spec;

  @Override
  public Integer call() throws Failure, InterruptedException {
    CommandLine own = Objects.requireNonNull(spec).commandLine();
    PrintWriter out = own.getOut();
    DataFolder folder = RunOptions.dataFolder(Optional.ofNullable(data));
    Profiles profiles = Profiles.with(folder.profiles());
    profiles.problems().forEach(problem -> own.getErr().println("note: " + problem));
    own.getErr().flush();
    if (isScan) {
      scan(own, profiles);
      return CommandLine.ExitCode.OK;
    }
    if (port != null) {
      Listening listening = new Listening(port, profiles.list(), own.getErr());
      out.print(listening.text(listening.fits()));
      out.flush();
      return CommandLine.ExitCode.OK;
    }
    List<Ports.Port> ports = Ports.list();
    out.println(ports.isEmpty() ? "No serial port is there; plug the scale in." : "Serial ports:");
    for (Ports.Port port : ports) {
      out.println("  serial:" + port.path() + "   " + port.description());
    }
    out.println();
    out.println("Profiles:");
    for (Profile profile : profiles.list()) {
      out.println(
          String.format(
              Locale.ROOT, "  %-16s %s (%s)", profile.name(), profile.about(), profile.link()));
    }
    out.println();
    out.println("Your own profiles go into " + folder.profiles());
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private void scan(CommandLine own, Profiles profiles) throws Failure, InterruptedException {
    own.getErr().println("Looking for Bluetooth devices ...");
    own.getErr().flush();
    Scanning scanning = Scanning.of(bluetooth, profiles.list());
    PrintWriter out = own.getOut();
    if (format == Format.JSON) {
      scanning.printJson(out);
    } else {
      out.print(scanning.text());
    }
    out.flush();
  }
}
