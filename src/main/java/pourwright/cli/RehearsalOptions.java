package pourwright.cli;

import picocli.CommandLine.Option;

/** What every rehearsal can be told. */
class RehearsalOptions extends RunOptions {
  @Option(
      names = "--sound",
      description = "Sound the cues on this machine too, for a run without a page.")
  private boolean isHeard;

  final boolean isHeard() {
    return isHeard;
  }

  /** Which radio and how; as usual, where no scale of the rehearsal can be out of reach. */
  BluetoothOptions bluetooth() {
    return new BluetoothOptions();
  }
}
