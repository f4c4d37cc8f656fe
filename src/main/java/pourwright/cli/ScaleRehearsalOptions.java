package pourwright.cli;

import picocli.CommandLine.Mixin;

/** What a rehearsal on the brewer's own scales can be told. */
final class ScaleRehearsalOptions extends RehearsalOptions {
  @Mixin private BluetoothOptions bluetooth = new BluetoothOptions();

  @Override
  BluetoothOptions bluetooth() {
    return bluetooth;
  }
}
