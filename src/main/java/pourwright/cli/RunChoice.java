package pourwright.cli;

import java.time.LocalDate;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Which kept runs a command is about; the same words for every command. */
final class RunChoice {
  @Option(
      names = {"--plan", "--title"},
      paramLabel = "TITLE",
      description = "Only runs of this plan.")
  private @Nullable String plan;

  @Option(names = "--brewer", paramLabel = "NAME", description = "Only runs of this brewer.")
  private @Nullable String brewer;

  @Option(
      names = "--feedback",
      paramLabel = "KIND",
      description = "Only runs under full, bandwidth, faded or blind feedback.")
  private @Nullable String feedback;

  @Option(names = "--from", paramLabel = "DAY", description = "First day, such as 2026-11-01.")
  private @Nullable LocalDate from;

  @Option(
      names = {"--until", "--to"},
      paramLabel = "DAY",
      description = "Last day.")
  private @Nullable LocalDate until;

  @Option(
      names = {"--text", "--search"},
      paramLabel = "WORDS",
      description = "Only runs with these words in title, brewer or note.")
  private @Nullable String words;

  @Spec(Spec.Target.MIXEE)
  private @Nullable CommandSpec command;

  Optional<String> plan() {
    return Optional.ofNullable(plan);
  }

  /** Whether the last day lies before the first. */
  boolean isBackward() {
    return from != null && until != null && until.isBefore(from);
  }

  /**
   * What was chosen.
   *
   * @throws picocli.CommandLine.ParameterException when there is no such feedback
   */
  RunQuery query() {
    return new RunQuery(
        plan(),
        Optional.ofNullable(brewer),
        Optional.ofNullable(feedback)
            .map(word -> FeedbackOption.read(word, Objects.requireNonNull(command).commandLine())),
        Optional.ofNullable(from),
        Optional.ofNullable(until),
        Optional.ofNullable(words));
  }
}
