package pourwright.cli;

import org.jspecify.annotations.Nullable;
import picocli.AutoComplete;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Prints what makes the shell complete this program's commands and options. */
@Command(
    name = "completion",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Print a script that lets bash or zsh complete commands and options.",
    description = {"", "Use it with:  source <(pourwright completion)"})
final class CompletionCommand implements Runnable {
  @Spec private @Nullable CommandSpec spec;

  @Override
  public void run() {
    CommandSpec own = spec;
    if (own != null) {
      own.commandLine().getOut().println(AutoComplete.bash("pourwright", Main.wholeProgram()));
      own.commandLine().getOut().flush();
    }
  }
}
