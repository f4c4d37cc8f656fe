package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import org.jline.utils.Signals;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;
import pourwright.card.StageCard;
import pourwright.journal.JournalFile;
import pourwright.stage.Outcome;

/** Several brewers, one pair of hands, one clock. */
@Command(
    name = "stage",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Plan several brewers with one pair of hands, print the card, run the clock.",
    description = {
      "",
      "A routine is a small file: which plan each brewer has, how long your chores take, what the"
          + " kettle holds, when you speak. `stage solve` alone shows the demo routine.",
      ""
    },
    subcommands = {
      StageCommand.Solve.class,
      StageCommand.Card.class,
      StageMockCommand.class,
      StageCommand.Sample.class
    },
    synopsisSubcommandLabel = "COMMAND")
final class StageCommand implements Runnable {
  @Spec private @Nullable CommandSpec spec;

  @Override
  public void run() {
    throw new ParameterException(
        Objects.requireNonNull(spec).commandLine(), "say what to do: solve, card, mock or sample");
  }

  /** Finds and tells the timetable. */
  @Command(
      name = "solve",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Find the timetable of a routine, or the rules that clash.",
      sortOptions = false)
  static final class Solve implements Callable<Integer> {
    @Mixin private StageOptions options = new StageOptions();

    @Option(
        names = "--format",
        paramLabel = "FORMAT",
        defaultValue = "text",
        description = "text or json.")
    private Format format = Format.TEXT;

    @Option(names = "--page", description = "Show the timetable in a browser until Ctrl-C.")
    private boolean isPage;

    @Mixin private OpenJournal opener = new OpenJournal();

    @Mixin private PageOptions page = new PageOptions();

    @Spec private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws Failure, InterruptedException {
      CommandLine own = Objects.requireNonNull(spec).commandLine();
      Staged staged = options.staged(own.getErr(), opener);
      if (format == Format.JSON) {
        try (JsonGenerator json = Json.write(own.getOut())) {
          new JsonMapper().writeTree(json, StageJson.of(staged));
        } catch (IOException impossible) {
          throw new Failure("the result could not be written", impossible);
        }
        own.getOut().println();
      } else {
        StageText.print(staged, own.getOut());
      }
      own.getOut().flush();
      if (isPage) {
        show(staged, own);
      }
      return staged.outcome() instanceof Outcome.Planned
          ? CommandLine.ExitCode.OK
          : CommandLine.ExitCode.SOFTWARE;
    }

    private void show(Staged staged, CommandLine own) throws Failure, InterruptedException {
      try (JournalFile journal = opener.open(own.getErr());
          LocalPage shown =
              LocalPage.open(
                      page,
                      Desks.with(
                          journal, new StageDesk(staged, new StageClock(System::nanoTime, 1))),
                      own.getErr())
                  .orElseThrow(
                      () ->
                          new Failure(
                              "the page is not shown: it was switched off, or no port could be"
                                  + " had"))) {
        own.getErr().println("stage: " + shown.address().resolve("/stage") + " (Ctrl-C ends it)");
        own.getErr().flush();
        CountDownLatch stopped = new CountDownLatch(1);
        for (String signal : List.of("INT", "TERM", "HUP")) {
          Signals.register(signal, stopped::countDown);
        }
        stopped.await();
      }
    }
  }

  /** Prints the card. */
  @Command(
      name = "card",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Print the stage card: every pour as a running total with its clock time.",
      sortOptions = false)
  static final class Card implements Callable<Integer> {
    @Mixin private StageOptions options = new StageOptions();

    @Option(
        names = "--paper",
        paramLabel = "SIZE",
        defaultValue = "a5",
        description = "a5 or a4. Default: ${DEFAULT-VALUE}.")
    private StageCard.Size paper = StageCard.Size.A5;

    @Option(
        names = "--out",
        paramLabel = "FILE",
        defaultValue = "stage-card.pdf",
        description = "Where the PDF goes. Default: ${DEFAULT-VALUE}.")
    private Path out = Path.of("stage-card.pdf");

    @Mixin private OpenJournal opener = new OpenJournal();

    @Spec private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws Failure {
      CommandLine own = Objects.requireNonNull(spec).commandLine();
      Staged staged = options.staged(own.getErr(), opener);
      if (!(staged.outcome() instanceof Outcome.Planned planned)) {
        StageText.print(staged, own.getErr());
        throw new Failure("there is no timetable to print");
      }
      StageOptions.write(out, StageCard.pdf(staged.file(), planned.timetable(), paper));
      own.getErr().println("printed to " + out);
      own.getErr().flush();
      return CommandLine.ExitCode.OK;
    }
  }

  /** Writes the demo routine, to be changed. */
  @Command(
      name = "sample",
      versionProvider = Main.Version.class,
      mixinStandardHelpOptions = true,
      usageHelpAutoWidth = true,
      header = "Print a routine file, or with --event an event file, to start from.")
  static final class Sample implements Callable<Integer> {
    @Option(names = "--event", description = "The event's rules instead of a routine.")
    private boolean isEvent;

    @Spec private @Nullable CommandSpec spec;

    @Override
    public Integer call() throws Failure {
      CommandLine own = Objects.requireNonNull(spec).commandLine();
      own.getOut().print(isEvent ? StageDemo.eventText() : StageDemo.text());
      own.getOut().flush();
      return CommandLine.ExitCode.OK;
    }
  }
}
