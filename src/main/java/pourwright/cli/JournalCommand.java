package pourwright.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import pourwright.journal.JournalFile;

/** A command that does something with the journal and ends. */
abstract class JournalCommand implements Callable<Integer> {
  @Mixin private OpenJournal journal = new OpenJournal();

  @Spec private @Nullable CommandSpec spec;

  /** The journal is open; what this throws is told in one line. */
  abstract void act(JournalFile open) throws IOException, Failure;

  @Override
  public Integer call() throws Failure {
    try (JournalFile open = journal.open(err())) {
      act(open);
    } catch (IOException failed) {
      throw Failure.of(failed);
    }
    out().flush();
    err().flush();
    return CommandLine.ExitCode.OK;
  }

  final PrintWriter out() {
    return Objects.requireNonNull(spec).commandLine().getOut();
  }

  final PrintWriter err() {
    return Objects.requireNonNull(spec).commandLine().getErr();
  }

  final ParameterException misuse(String message) {
    return new ParameterException(Objects.requireNonNull(spec).commandLine(), message);
  }
}
