package pourwright.cli;

import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** The program {@code pourwright}. */
@Command(
    name = "pourwright",
    mixinStandardHelpOptions = true,
    description = "Rehearse, judge and stage the pours of manual filter coffee.")
public final class Main implements Callable<Integer> {

  private Main() {}

  @Override
  public Integer call() {
    CommandLine.usage(this, System.err);
    return CommandLine.ExitCode.USAGE;
  }

  public static void main(String[] args) {
    System.exit(new CommandLine(new Main()).execute(args));
  }
}
