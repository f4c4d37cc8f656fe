package pourwright.cli;

import java.math.BigDecimal;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import pourwright.bed.Poured;
import pourwright.bed.Shape;
import pourwright.forecast.Dripper;
import pourwright.forecast.Filling;
import pourwright.forecast.Kit;
import pourwright.forecast.Limits;
import pourwright.forecast.PastRun;
import pourwright.kettle.Cooling;
import pourwright.kettle.Deed;
import pourwright.kettle.Kettle;
import pourwright.kettle.Room;
import pourwright.units.Flow;
import pourwright.units.Mass;
import pourwright.units.MassUnit;
import pourwright.units.SessionTime;

/** What a brew is made with; kept in a file, it is given as {@code @kit.txt}. */
final class KitOptions {
  private static final String NUMBER = "(\\d{1,5}(?:\\.\\d{1,9})?)";
  private static final Pattern REFILL = Pattern.compile(NUMBER + "@" + NUMBER + ":" + NUMBER);
  private static final Pattern COOLED =
      Pattern.compile(NUMBER + ":" + NUMBER + "@" + NUMBER + "/" + NUMBER);
  private static final Pattern DRAINED = Pattern.compile(NUMBER + "@" + NUMBER + "/" + NUMBER);

  /** Anything larger is a slip of the finger (g, s, W, mm); own choice. */
  private static final double MOST = 10_000;

  private static final double MILLIMETRES_PER_METRE = 1_000;

  private enum Form {
    CONE,
    FLAT;

    @Override
    public String toString() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  @Option(
      names = "--dripper",
      paramLabel = "FORM",
      description = "cone (60° between its walls) or flat (a level bottom). Else cone.")
  private Form form = Form.CONE;

  @Option(
      names = "--across-mm",
      paramLabel = "MM",
      description = "Cone: its outlet across. Flat: its bottom across. Else 16, or 75.")
  private @Nullable Double acrossMillimetres;

  @Option(
      names = "--rim-mm",
      paramLabel = "MM",
      description = "Height of the rim above the outlet. Else 80, or 60 when flat.")
  private @Nullable Double rimMillimetres;

  @Option(
      names = "--drained",
      paramLabel = "G@S/D",
      description =
          "What you have watched: G grams poured in S seconds had drained D seconds after the first "
              + "water. Repeat it. Runs whose drainage was weighed count the same.")
  private List<String> drained = new ArrayList<>();

  @Option(names = "--kettle-g", paramLabel = "G", description = "What the kettle holds. Else 900.")
  private @Nullable Double kettleGrams;

  @Option(
      names = "--fill-g",
      paramLabel = "G",
      description = "Water in it at the first pour. Else 600.")
  private @Nullable Double fillGrams;

  @Option(
      names = "--stays-g",
      paramLabel = "G",
      description = "Water that the spout does not give. Else 60.")
  private @Nullable Double staysGrams;

  @Option(
      names = "--rinse-g",
      paramLabel = "G",
      description = "Water that rinses and warms before the first pour. Else 100.")
  private @Nullable Double rinseGrams;

  @Option(
      names = "--refill",
      paramLabel = "G@S:C",
      description = "G grams of C °C added at S seconds. Repeat it.")
  private List<String> refills = new ArrayList<>();

  @Option(names = "--base", description = "The kettle stands on its heated base between pours.")
  private boolean isOnBase;

  @Option(names = "--heater-w", paramLabel = "W", description = "Power of the base. Else 1000.")
  private @Nullable Double heaterWatts;

  @Option(
      names = "--cooled",
      paramLabel = "C:C@MIN/G",
      description =
          "One cooling that you watched, off the base: from 94 to 90 °C in 5 minutes with 600 g is "
              + "94:90@5/600. Else 0.6 W/K, a guess.")
  private @Nullable String cooled;

  @Option(names = "--room-c", paramLabel = "C", description = "The room. Else 21.")
  private @Nullable Double roomCelsius;

  @Option(
      names = "--most-flow",
      paramLabel = "G/S",
      description = "Fastest that the kettle pours. Else 12.")
  private @Nullable Double mostFlow;

  @Option(
      names = "--limit-s",
      paramLabel = "S",
      description = "From first water to a dry bed at most. Else 240.")
  private @Nullable Double limitSeconds;

  @Option(
      names = "--cooler-c",
      paramLabel = "K",
      description = "How far the kettle may fall below the plan. Else 3.")
  private @Nullable Double coolerCelsius;

  Kit kit(CommandLine command) {
    double rim = within(command, "--rim-mm", rimMillimetres, 0, 1_000 - 1);
    Dripper usual = form == Form.CONE ? Dripper.CONE : Dripper.FLAT;
    double metres = rim > 0 ? rim / MILLIMETRES_PER_METRE : usual.rimMetres();
    Filling filling = Filling.USUAL;
    Limits limits = Limits.USUAL;
    double room = within(command, "--room-c", roomCelsius, Room.USUAL.celsius(), 50);
    Room air = new Room(room, Room.USUAL.humidity(), Room.USUAL.airMetresPerSecond());
    return new Kit(
        new Dripper(shape(command, usual), metres),
        kettle(command, air),
        air,
        new Filling(
            mass(command, "--fill-g", fillGrams, filling.fill()),
            mass(command, "--rinse-g", rinseGrams, filling.rinse()),
            mass(command, "--stays-g", staysGrams, filling.stays()),
            isOnBase,
            refills.stream().map(told -> refill(command, told)).toList()),
        new Limits(
            Flow.ofGramsPerSecond(
                within(command, "--most-flow", mostFlow, limits.mostFlow().gramsPerSecond(), MOST)),
            Duration.ofMillis(
                Math.round(
                    1_000
                        * within(
                            command,
                            "--limit-s",
                            limitSeconds,
                            limits.time().toMillis() / 1_000.0,
                            MOST))),
            within(command, "--cooler-c", coolerCelsius, limits.coolerCelsius(), 100)));
  }

  private Shape shape(CommandLine command, Dripper usual) {
    Double across = acrossMillimetres;
    if (across == null) {
      return usual.shape();
    }
    double radius = within(command, "--across-mm", across, 0, 500) / 2 / MILLIMETRES_PER_METRE;
    if (radius == 0) {
      throw new ParameterException(command, "--across-mm must be more than 0");
    }
    return form == Form.CONE ? Shape.Cone.ofDegrees(60, radius) : new Shape.FlatBottom(radius);
  }

  private Kettle kettle(CommandLine command, Room room) {
    Kettle usual = Kettle.USUAL;
    Mass holds = mass(command, "--kettle-g", kettleGrams, usual.holds());
    if (holds.equals(Mass.ZERO)) {
      throw new ParameterException(command, "--kettle-g must be more than 0");
    }
    Kettle told =
        new Kettle(
            holds,
            usual.emptyJoulesPerKelvin(),
            usual.wattsPerKelvin(),
            usual.openSquareMetres(),
            within(command, "--heater-w", heaterWatts, usual.heaterWatts(), MOST));
    String watched = cooled;
    if (watched == null) {
      return told;
    }
    Matcher match = COOLED.matcher(watched);
    if (!match.matches()) {
      throw new ParameterException(
          command, "--cooled: write FROM:TO@MINUTES/GRAMS, as 94:90@5/600, not " + watched);
    }
    try {
      return new Cooling(
              grams(match.group(4)),
              Double.parseDouble(match.group(1)),
              Double.parseDouble(match.group(2)),
              60 * Double.parseDouble(match.group(3)),
              room)
          .appliedTo(told)
          .orElseThrow(
              () ->
                  new ParameterException(
                      command, "--cooled: no kettle of this kind cools so little; look again"));
    } catch (IllegalArgumentException wrong) {
      throw new ParameterException(command, "--cooled: " + wrong.getMessage(), wrong);
    }
  }

  private static Deed.Refill refill(CommandLine command, String told) {
    Matcher match = REFILL.matcher(told);
    if (!match.matches() || Double.parseDouble(match.group(3)) > 100) {
      throw new ParameterException(
          command, "--refill: write GRAMS@SECONDS:CELSIUS, as 200@95:96, not " + told);
    }
    return new Deed.Refill(
        SessionTime.ofSeconds(Double.parseDouble(match.group(2))),
        grams(match.group(1)),
        Double.parseDouble(match.group(3)));
  }

  /** What was watched by eye, as runs of one pour each. */
  List<PastRun> watched(CommandLine command, Mass dose, OptionalDouble kettleCelsius) {
    List<PastRun> runs = new ArrayList<>();
    for (String told : drained) {
      Matcher match = DRAINED.matcher(told);
      double seconds = match.matches() ? Double.parseDouble(match.group(2)) : 0;
      double dry = match.matches() ? Double.parseDouble(match.group(3)) : 0;
      if (!(seconds > 0 && dry > seconds)) {
        throw new ParameterException(
            command, "--drained: write GRAMS@SECONDS/DRAINED, as 60@10/40, not " + told);
      }
      Poured pour =
          new Poured(SessionTime.ZERO, SessionTime.ofSeconds(seconds), grams(match.group(1)));
      runs.add(
          new PastRun(
              dose,
              kettleCelsius,
              List.of(pour),
              List.of(Optional.of(SessionTime.ofSeconds(dry))),
              List.of(true),
              Optional.empty(),
              OptionalDouble.empty()));
    }
    return runs;
  }

  private static Mass grams(String text) {
    return Mass.of(new BigDecimal(text), MassUnit.GRAM);
  }

  private static Mass mass(
      CommandLine command, String name, @Nullable Double grams, Mass otherwise) {
    return grams == null ? otherwise : Mass.ofGrams(within(command, name, grams, 0, MOST));
  }

  private static double within(
      CommandLine command, String name, @Nullable Double value, double otherwise, double most) {
    if (value == null) {
      return otherwise;
    }
    if (!(value >= 0 && value <= most)) {
      throw new ParameterException(
          command,
          String.format(
              Locale.ROOT, "%s must lie between 0 and %.0f, it is %s", name, most, value));
    }
    return value;
  }
}
