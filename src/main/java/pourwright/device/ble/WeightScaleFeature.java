package pourwright.device.ble;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.UUID;
import pourwright.device.BleSettings;
import pourwright.device.Bytes;

/**
 * What a scale of the standard's Weight Scale Service says of itself (Bluetooth SIG, Weight Scale
 * Feature 0x2A9E): 32 bits, low byte first.
 *
 * <pre>
 * bit 0      sends the time of a weighing
 * bit 1      tells several users apart
 * bit 2      sends the body mass index
 * bits 3-6   step of the weight: 0 not said, 1 to 7 see below
 * bits 7-9   step of the body height
 * </pre>
 *
 * @param stepGrams from one weight to the next (g); empty when not said
 */
record WeightScaleFeature(
    boolean hasTime, boolean hasUsers, boolean hasBmi, OptionalInt stepGrams) {
  /** Of the service. */
  static final UUID SERVICE = BleSettings.standard(0x181D);

  /** Of the characteristic. */
  static final UUID CHARACTERISTIC = BleSettings.standard(0x2A9E);

  private static final int BYTES = 4;
  private static final int STEP_SHIFT = 3;
  private static final int STEP_MASK = 0xF;

  /** By code, beginning with 1; 0.5 kg to 0.005 kg. */
  private static final List<Integer> STEPS_GRAMS = List.of(500, 200, 100, 50, 20, 10, 5);

  /** Reads the value; empty when it is no such. */
  static Optional<WeightScaleFeature> of(Bytes value) {
    if (value.size() < BYTES) {
      return Optional.empty();
    }
    int low = Byte.toUnsignedInt(value.at(0));
    int code = (low >> STEP_SHIFT) & STEP_MASK;
    boolean isSaid = code >= 1 && code <= STEPS_GRAMS.size();
    return Optional.of(
        new WeightScaleFeature(
            (low & 1) != 0,
            (low & 2) != 0,
            (low & 4) != 0,
            isSaid ? OptionalInt.of(STEPS_GRAMS.get(code - 1)) : OptionalInt.empty()));
  }
}
