package pourwright.sample;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import pourwright.device.BleSettings;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.catalogue.Profiles;
import pourwright.device.protocol.Encoder;
import pourwright.device.protocol.Profile;
import pourwright.plan.Plan;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.reading.Reading;
import pourwright.recording.AppendFile;
import pourwright.recording.RawStreamWriter;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.simulate.Mishap;
import pourwright.simulate.ScaleTraits;
import pourwright.simulate.Scenario;
import pourwright.simulate.Simulation;
import pourwright.simulate.Skill;
import pourwright.simulate.Truth;
import pourwright.units.Mass;
import pourwright.units.MassUnit;
import pourwright.units.SessionTime;

/**
 * Makes the files in {@code sample-streams}: simulated runs of one short plan, said in the bytes of
 * every shipped profile, cut and damaged as real links do it.
 *
 * <p>{@code mvn -q test-compile exec:java -Dexec.classpathScope=test
 * -Dexec.mainClass=pourwright.sample.SampleStreams -Dexec.args=sample-streams}
 */
public final class SampleStreams {
  /** A bare board, slowed down so that its file stays small. */
  private static final ScaleTraits BOARD =
      new ScaleTraits(40, 0.03, 1, 0.08, 0.01, 0.1, false, 1, 0.002);

  /** How a link treats what the scale says. */
  private enum Blemish {
    /** Lines and frames arrive whole or cut in two, nothing worse. */
    NONE,
    /** About one frame in forty has a bit turned over. */
    FLIPPED_BITS,
    /** About one frame in forty loses a byte. */
    LOST_BYTES,
    /** From 45 s on the scale speaks ounces. */
    OUNCES,
    /** From 50 s to 51 s the scale says that it is overloaded. */
    OVERLOAD
  }

  /** One file, or two for the split rig. */
  private record Sample(
      String name,
      String profile,
      Rig rig,
      Skill skill,
      ScaleTraits scale,
      Set<Mishap> mishaps,
      Blemish blemish,
      long seed,
      String about) {}

  private static final List<Sample> ALL =
      List.of(
          new Sample(
              "bare-number-calm",
              "bare-number",
              Rig.WHOLE,
              Skill.SKILLED,
              ScaleTraits.GOOD,
              Set.of(),
              Blemish.NONE,
              11,
              "nothing but three pours and the lift"),
          new Sample(
              "bare-number-board",
              "bare-number",
              Rig.WHOLE,
              Skill.NERVOUS,
              BOARD,
              Set.of(Mishap.THUMP, Mishap.KETTLE_ON_RIM),
              Blemish.NONE,
              12,
              "noisy board, the bench is struck, the kettle touches the rim"),
          new Sample(
              "number-unit-tare",
              "number-unit",
              Rig.WHOLE,
              Skill.SKILLED,
              ScaleTraits.GOOD,
              Set.of(Mishap.TARE),
              Blemish.NONE,
              13,
              "the scale is zeroed between two pours"),
          new Sample(
              "number-unit-ounces",
              "number-unit",
              Rig.WHOLE,
              Skill.SKILLED,
              ScaleTraits.GOOD,
              Set.of(),
              Blemish.OUNCES,
              14,
              "the unit changes from g to oz in mid stream"),
          new Sample(
              "number-unit-coarse",
              "number-unit",
              Rig.WHOLE,
              Skill.LEARNING,
              ScaleTraits.COARSE,
              Set.of(),
              Blemish.LOST_BYTES,
              15,
              "whole grams only; a cable that loses bytes, digits among them"),
          new Sample(
              "status-comma-hand",
              "status-comma",
              Rig.WHOLE,
              Skill.NERVOUS,
              ScaleTraits.GOOD,
              Set.of(Mishap.LEANING_HAND, Mishap.SWIRL),
              Blemish.NONE,
              16,
              "a hand leans on the rig, the dripper is swirled"),
          new Sample(
              "status-comma-overload",
              "status-comma",
              Rig.WHOLE,
              Skill.SKILLED,
              ScaleTraits.GOOD,
              Set.of(),
              Blemish.OVERLOAD,
              17,
              "the scale calls an overload for a second"),
          new Sample(
              "status-comma-server",
              "status-comma",
              Rig.SERVER,
              Skill.SKILLED,
              ScaleTraits.GOOD,
              Set.of(),
              Blemish.NONE,
              18,
              "the scale stands under the server only"),
          new Sample(
              "status-letter-slow",
              "status-letter",
              Rig.WHOLE,
              Skill.SKILLED,
              ScaleTraits.SLOW,
              Set.of(Mishap.SPOON),
              Blemish.NONE,
              19,
              "shows weights half a second late; a spoon is put down and taken away"),
          new Sample(
              "control-frame-dropout",
              "control-frame",
              Rig.WHOLE,
              Skill.SKILLED,
              ScaleTraits.GOOD,
              Set.of(Mishap.DROPOUT),
              Blemish.LOST_BYTES,
              20,
              "some seconds of silence between two pours, and lost bytes"),
          new Sample(
              "binary-sum-split",
              "binary-sum",
              Rig.SPLIT,
              Skill.SKILLED,
              ScaleTraits.GOOD,
              Set.of(),
              Blemish.NONE,
              21,
              "both scales of one run"),
          new Sample(
              "binary-crc-noise",
              "binary-crc",
              Rig.WHOLE,
              Skill.NERVOUS,
              ScaleTraits.BURSTS,
              Set.of(Mishap.SWIRL),
              Blemish.FLIPPED_BITS,
              22,
              "four readings at a time, turned bits, a swirl"),
          new Sample(
              "ble-text-stream-calm",
              "ble-text-stream",
              Rig.WHOLE,
              Skill.SKILLED,
              ScaleTraits.GOOD,
              Set.of(),
              Blemish.NONE,
              23,
              "text over a radio link"),
          new Sample(
              "ble-binary-message-bursts",
              "ble-binary-message",
              Rig.WHOLE,
              Skill.SKILLED,
              ScaleTraits.BURSTS,
              Set.of(Mishap.KETTLE_ON_RIM),
              Blemish.NONE,
              24,
              "one message for each reading, four at a time; the kettle touches the rim"),
          new Sample(
              "ble-weight-scale-steps",
              "ble-weight-scale",
              Rig.WHOLE,
              Skill.SKILLED,
              ScaleTraits.GOOD,
              Set.of(),
              Blemish.NONE,
              25,
              "the standard's steps of 5 g, and nothing below zero"));

  private static final SessionTime OUNCES_FROM = SessionTime.ofMillis(45_000);
  private static final SessionTime OVERLOAD_FROM = SessionTime.ofMillis(50_000);
  private static final SessionTime OVERLOAD_TO = SessionTime.ofMillis(51_000);
  private static final int ONE_IN = 40;

  private SampleStreams() {}

  /**
   * Makes them all anew.
   *
   * @param args the folder
   */
  public static void main(String[] args) throws IOException {
    Path folder = Path.of(args.length > 0 ? args[0] : "sample-streams");
    String planText = Files.readString(folder.resolve("short-run.yaml"));
    PlanReading reading = PlanReader.read(planText, "short-run.yaml");
    if (!(reading instanceof PlanReading.Understood understood)) {
      throw new IllegalStateException(reading.toString());
    }
    for (Sample sample : ALL) {
      make(sample, understood.plan(), folder);
    }
  }

  private static void make(Sample sample, Plan plan, Path folder) throws IOException {
    Scenario scenario =
        new Scenario(
            sample.name(), sample.about(), sample.skill(), sample.scale(), sample.mishaps());
    Simulation simulation = new Simulation(plan, scenario, sample.rig(), sample.seed());
    Map<Place, List<Chunk>> said = new EnumMap<>(Place.class);
    Map<Place, Mouth> mouths = new EnumMap<>(Place.class);
    for (Place place : sample.rig().places()) {
      said.put(place, new ArrayList<>());
      mouths.put(place, new Mouth(sample, place));
    }
    while (simulation.advance()) {
      Place place = simulation.place();
      Mouth mouth = Objects.requireNonNull(mouths.get(place));
      mouth.say(simulation.reading(), Objects.requireNonNull(said.get(place)));
    }
    for (Map.Entry<Place, List<Chunk>> entry : said.entrySet()) {
      String suffix = said.size() > 1 ? "-" + entry.getKey().word() : "";
      Path file = folder.resolve(sample.name() + suffix + ".stream");
      Files.deleteIfExists(file);
      Map<String, String> headers = new LinkedHashMap<>();
      headers.put("profile", sample.profile());
      headers.put("rig", sample.rig().word());
      headers.put("place", entry.getKey().word());
      headers.put("note", "simulated, seed " + sample.seed() + ": " + sample.about());
      headers.put("truth", truth(simulation.truth()));
      try (RawStreamWriter writer = RawStreamWriter.begin(AppendFile.create(file), headers)) {
        entry.getValue().forEach(writer::add);
      }
    }
  }

  /** The pours as they were: grams, from, to (s), and when the dripper was taken off. */
  private static String truth(Truth truth) {
    String pours =
        truth.pours().stream()
            .map(
                pour ->
                    String.format(
                        Locale.ROOT,
                        "%.1f g %.2f-%.2f s",
                        pour.poured().grams(),
                        pour.start().seconds(),
                        pour.end().seconds()))
            .collect(Collectors.joining(", "));
    return pours
        + truth
            .lift()
            .map(lift -> String.format(Locale.ROOT, ", lift %.2f s", lift.at().seconds()))
            .orElse("");
  }

  /** Says readings in bytes and lets the link cut and damage them. */
  private static final class Mouth {
    private final Sample sample;
    private final Encoder encoder;
    private final SplittableRandom random;
    private final boolean isMessageWise;

    private Mouth(Sample sample, Place place) {
      this.sample = sample;
      Profile profile = Profiles.shipped().find(sample.profile()).orElseThrow();
      this.encoder = profile.newEncoder();
      this.isMessageWise = profile.ble().filter(BleSettings::isMessageWise).isPresent();
      this.random = new SplittableRandom(31 * sample.seed() + (place == Place.SERVER ? 1 : 0));
    }

    private void say(Reading reading, List<Chunk> out) {
      byte[] bytes = damaged(bytes(reading).toArray());
      SessionTime at = reading.at();
      if (!isMessageWise && random.nextInt(4) == 0) {
        int cut = random.nextInt(1, bytes.length);
        SessionTime before = SessionTime.ofNanos(at.nanos() - 1_000_000);
        boolean isInOrder = out.isEmpty() || !before.isBefore(out.get(out.size() - 1).at());
        out.add(new Chunk(isInOrder ? before : at, Bytes.copyOf(bytes, 0, cut)));
        out.add(new Chunk(at, Bytes.copyOf(bytes, cut, bytes.length)));
      } else {
        out.add(new Chunk(at, Bytes.copyOf(bytes)));
      }
    }

    private Bytes bytes(Reading reading) {
      SessionTime at = reading.at();
      if (sample.blemish() == Blemish.OVERLOAD
          && !at.isBefore(OVERLOAD_FROM)
          && at.isBefore(OVERLOAD_TO)) {
        return encoder.outOfRange(true).orElseThrow();
      }
      if (sample.blemish() == Blemish.OUNCES && !at.isBefore(OUNCES_FROM)) {
        return Bytes.ofAscii(String.format(Locale.ROOT, "%8.3f oz\r\n", ounces(reading.mass())));
      }
      return encoder.weight(reading.mass(), reading.stability());
    }

    private static double ounces(Mass mass) {
      return mass.nanograms() / (double) MassUnit.OUNCE.nanograms();
    }

    private byte[] damaged(byte[] bytes) {
      boolean isUnlucky = random.nextInt(ONE_IN) == 0;
      if (!isUnlucky) {
        return bytes;
      }
      int at = random.nextInt(bytes.length);
      if (sample.blemish() == Blemish.FLIPPED_BITS) {
        bytes[at] ^= (byte) (1 << random.nextInt(8));
      } else if (sample.blemish() == Blemish.LOST_BYTES) {
        ByteArrayOutputStream rest = new ByteArrayOutputStream(bytes.length);
        rest.write(bytes, 0, at);
        rest.write(bytes, at + 1, bytes.length - at - 1);
        return rest.toByteArray();
      }
      return bytes;
    }
  }
}
