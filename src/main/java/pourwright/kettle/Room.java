package pourwright.kettle;

import pourwright.water.Water;

/**
 * The air around a kettle.
 *
 * @param celsius temperature (°C), 0 to 50
 * @param humidity relative, 0 to 1
 * @param airMetresPerSecond speed of the air over the water (m/s), not negative
 */
public record Room(double celsius, double humidity, double airMetresPerSecond) {
  /** A heated room with still air; own choice. */
  public static final Room USUAL = new Room(21, 0.5, 0.1);

  public Room {
    if (!(celsius >= 0 && celsius <= 50)
        || !(humidity >= 0 && humidity <= 1)
        || !(airMetresPerSecond >= 0 && airMetresPerSecond <= 10)) {
      throw new IllegalArgumentException(
          "no room to brew in: %s °C, humidity %s, air %s m/s"
              .formatted(celsius, humidity, airMetresPerSecond));
    }
  }

  double vapourPascals() {
    return humidity * Water.atCelsius(celsius).vapourPascals();
  }
}
