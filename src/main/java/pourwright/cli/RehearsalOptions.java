package pourwright.cli;

import picocli.CommandLine.Option;

/** What every rehearsal can be told. */
final class RehearsalOptions extends RunOptions {
  @Option(
      names = "--sound",
      description = "Sound the cues on this machine too, for a run without a page.")
  private boolean isHeard;

  boolean isHeard() {
    return isHeard;
  }
}
