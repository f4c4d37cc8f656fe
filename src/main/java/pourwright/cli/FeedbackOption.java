package pourwright.cli;

import java.util.Locale;
import picocli.CommandLine;
import picocli.CommandLine.ParameterException;
import pourwright.coach.Feedback;

/** Reads what {@code --feedback} says, the same for every command. */
final class FeedbackOption {
  private FeedbackOption() {}

  /**
   * The feedback of that word.
   *
   * @throws ParameterException when there is none
   */
  static Feedback read(String word, CommandLine command) {
    return Feedback.findByWord(word.toLowerCase(Locale.ROOT))
        .orElseThrow(
            () ->
                new ParameterException(
                    command,
                    "--feedback must be full, bandwidth, faded or blind, not '" + word + "'"));
  }
}
