package pourwright.cli;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;
import picocli.CommandLine.ScopeType;
import picocli.CommandLine.Spec;

/** The program {@code pourwright}. */
@Command(
    name = "pourwright",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    header = "Rehearse, judge and stage the pours of manual filter coffee.",
    description = {
      "",
      "Weighs while you pour, finds the pours, holds each against your plan and keeps every run.",
      ""
    },
    footer = {
      "",
      "Begin with `pourwright demo`; with your own scale: `pourwright scales`, then",
      "`pourwright rehearse PLAN.yaml --scale serial:PORT?profile=NAME`.",
      "",
      "Boiling water and steam burn: stand the kettle safe, keep mains and laptop dry."
    },
    usageHelpAutoWidth = true)
public final class Main implements Runnable {

  @Option(
      names = "--debug",
      scope = ScopeType.INHERIT,
      description = "Show where the program failed, for a report.")
  private boolean isDebugging;

  @Spec private @Nullable CommandSpec spec;

  /** The commands by name; only the one that is asked for is made, as each costs start-up time. */
  private static Map<String, Supplier<Object>> commands() {
    Map<String, Supplier<Object>> commands = new LinkedHashMap<>();
    commands.put("demo", DemoCommand::new);
    commands.put("rehearse", RehearseCommand::new);
    commands.put("analyse", AnalyseCommand::new);
    commands.put("runs", RunsCommand::new);
    commands.put("scales", ScalesCommand::new);
    commands.put("check-scale", CheckScaleCommand::new);
    commands.put("plan", PlanCommand::new);
    commands.put("review", ReviewCommand::new);
    commands.put("water", WaterCommand::new);
    commands.put("stage", StageCommand::new);
    commands.put("completion", CompletionCommand::new);
    return commands;
  }

  @Override
  public void run() {
    CommandSpec own = spec;
    if (own != null) {
      throw new ParameterException(own.commandLine(), "say which command you want");
    }
  }

  /** Every command, for help and completion. */
  static CommandLine wholeProgram() {
    CommandLine program = new CommandLine(new Main());
    commands().forEach((name, command) -> program.addSubcommand(name, command.get()));
    return program
        .setExecutionExceptionHandler(Main::failed)
        .setParameterExceptionHandler(Main::misused)
        .setCaseInsensitiveEnumValuesAllowed(true);
  }

  private static CommandLine programFor(String[] args) {
    Optional<Supplier<Object>> asked =
        args.length == 0 ? Optional.empty() : Optional.ofNullable(commands().get(args[0]));
    if (asked.isEmpty()) {
      return wholeProgram();
    }
    return new CommandLine(new Main())
        .addSubcommand(args[0], asked.get().get())
        .setExecutionExceptionHandler(Main::failed)
        .setParameterExceptionHandler(Main::misused)
        .setCaseInsensitiveEnumValuesAllowed(true);
  }

  private static int failed(Exception failure, CommandLine command, @Nullable ParseResult parsed) {
    PrintWriter err = command.getErr();
    boolean isDebugging =
        command.getCommandSpec().root().userObject() instanceof Main main && main.isDebugging;
    if (failure instanceof Failure) {
      err.println("pourwright: " + failure.getMessage());
    } else {
      err.println(
          "pourwright: failed unexpectedly ("
              + failure
              + ")"
              + (isDebugging ? "" : "; run it again with --debug for a report"));
    }
    if (isDebugging) {
      failure.printStackTrace(err);
    }
    err.flush();
    return CommandLine.ExitCode.SOFTWARE;
  }

  private static int misused(ParameterException misuse, String[] args) {
    CommandLine command = misuse.getCommandLine();
    PrintWriter err = command.getErr();
    err.println("pourwright: " + misuse.getMessage());
    CommandLine.UnmatchedArgumentException.printSuggestions(misuse, err);
    err.println("see: " + command.getCommandSpec().qualifiedName() + " --help");
    err.flush();
    return CommandLine.ExitCode.USAGE;
  }

  /**
   * Runs the program without ending the virtual machine.
   *
   * @param out for results
   * @param err for talk
   * @return the exit status: 0 done, 1 failed, 2 wrong usage
   */
  static int run(PrintWriter out, PrintWriter err, String... args) {
    int status;
    try {
      status = programFor(args).setOut(out).setErr(err).execute(args);
    } catch (OutOfMemoryError tooLarge) {
      err.println(
          "pourwright: this is too much for the memory that Java has here; give it more with"
              + " java -Xmx2g -jar pourwright.jar ...");
      status = CommandLine.ExitCode.SOFTWARE;
    }
    if (out.checkError() && status == CommandLine.ExitCode.OK) {
      err.println("pourwright: the result could not be written: standard output is closed or full");
      status = CommandLine.ExitCode.SOFTWARE;
    }
    err.flush();
    return status;
  }

  public static void main(String[] args) {
    System.exit(run(writer(FileDescriptor.out), writer(FileDescriptor.err), args));
  }

  /**
   * Text goes out as UTF-8, except on Windows, where terminals still have a code page. Not through
   * {@link System#out}, which swallows what goes wrong.
   */
  private static PrintWriter writer(FileDescriptor to) {
    boolean isWindows = System.getProperty("os.name", "").startsWith("Windows");
    Charset charset = isWindows ? Charset.defaultCharset() : StandardCharsets.UTF_8;
    return new PrintWriter(new OutputStreamWriter(new FileOutputStream(to), charset), false);
  }

  /** Name and version as the build wrote them into the jar. */
  static final class Version implements IVersionProvider {
    static String nameAndVersion() {
      String version = Main.class.getPackage().getImplementationVersion();
      return "pourwright " + (version == null ? "(from source)" : version);
    }

    @Override
    public String[] getVersion() {
      return new String[] {nameAndVersion()};
    }
  }
}
