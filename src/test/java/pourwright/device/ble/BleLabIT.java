package pourwright.device.ble;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The link on a real Bluetooth stack, in a virtual machine with two virtual radios. Run by {@code
 * mvn verify -Pble-lab -Dble.lab=DIR}; DIR holds the lab's {@code run-in-vm}.
 */
@Tag("ble-lab")
class BleLabIT {
  private static final Path LAB = Path.of(System.getProperty("ble.lab", ""), "run-in-vm");
  private static final Path OUT = Path.of("target", "ble-lab").toAbsolutePath();
  private static final Path FIGURES = OUT.resolve("figures.txt");

  @BeforeAll
  static void look() throws IOException {
    boolean isThere = !System.getProperty("ble.lab", "").isEmpty() && Files.isExecutable(LAB);
    if (!isThere) {
      System.err.println("NOT TESTED on a real Bluetooth stack: -Dble.lab names no lab: " + LAB);
    }
    assumeTrue(isThere, "no Bluetooth lab");
    Files.createDirectories(OUT);
    Files.deleteIfExists(FIGURES);
  }

  private static List<String> run(String name, int limitSeconds, String... script)
      throws Exception {
    List<String> command = new ArrayList<>(List.of(LAB.toString(), "-o", OUT.toString()));
    command.addAll(List.of("-t", Integer.toString(limitSeconds)));
    command.add("bash");
    command.addAll(List.of(script));
    Path log = OUT.resolve(name + ".log");
    Process process =
        new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(log.toFile()).start();
    assertThat(process.waitFor(limitSeconds + 60L, TimeUnit.SECONDS)).isTrue();
    List<String> said = Files.readAllLines(log, StandardCharsets.UTF_8);
    assertThat(process.exitValue()).as(String.join("\n", said)).isZero();
    return said;
  }

  private static void note(String format, Object... values) throws IOException {
    String line = String.format(Locale.ROOT, format, values);
    System.out.println(line);
    Files.writeString(FIGURES, line + "\n", StandardOpenOption.CREATE, StandardOpenOption.APPEND);
  }

  @Test
  void every_value_sent_arrives_in_order() throws Exception {
    String[] rates = {"10", "20", "50", "80"};
    List<String> script = new ArrayList<>(List.of("src/test/ble-lab/rates.sh", "60"));
    script.addAll(List.of(rates));
    List<String> said = run("rates", 900, script.toArray(String[]::new));
    assertThat(said).filteredOn(line -> line.startsWith("received ")).hasSize(rates.length);
    String rate = "";
    double begunSeconds = 0;
    for (String line : said) {
      String[] words = line.split(" ", -1);
      switch (words[0]) {
        case "rate" -> rate = words[1];
        case "begun" -> begunSeconds = Double.parseDouble(words[1]);
        case "first" ->
            note(
                "%s a second: first weight %.1f s after the start",
                rate, Double.parseDouble(words[1]) - begunSeconds);
        case "received" -> {
          note("%s a second: %s", rate, line);
          assertThat(line).contains(" missing 0 late 0 repeated 0 ");
          assertThat(Double.parseDouble(words[1])).isGreaterThan(50 * Double.parseDouble(rate));
        }
        default -> {
          // The link's own words.
        }
      }
    }
  }

  /** Cases of life.sh that begin with a link that stands. */
  static Stream<Arguments> lives() {
    return Stream.of(
        arguments(
            "scale",
            List.of("scale off", "silence", "scale's program", "out of range", "scale's radio")),
        arguments("stall", List.of("stall")),
        arguments("computer", List.of("radio off", "Bluetooth service", "radio pulled")),
        arguments("sleep", List.of("sleep of the whole system", "sleep of this computer")));
  }

  @ParameterizedTest
  @MethodSource("lives")
  void a_scale_is_taken_again_whatever_parts_the_link(String life, List<String> cases)
      throws Exception {
    List<String> said = run("life-" + life, 600, "src/test/ble-lab/life.sh", life);
    for (String name : cases) {
      told(LifeCase.of(said, name));
    }
  }

  private static void told(LifeCase life) throws IOException {
    note(
        "%s: seen %.2f s after the last weight, weighs %.2f s after it was mended",
        life.name(), life.lossSeenSeconds(), life.backSeconds());
    assertThat(life.lossSeenSeconds()).as(life.name()).isLessThan(2.0);
  }

  @Test
  void a_scale_that_another_program_connected_to_is_taken_over() throws Exception {
    List<String> said = run("life-connected", 300, "src/test/ble-lab/life.sh", "connected");
    assertThat(said).anyMatch(line -> line.contains("is connected to this computer already"));
    assertThat(said).anyMatch(line -> line.startsWith("first "));
  }

  @Test
  void a_scale_that_wants_to_be_paired_says_so_and_is_taken_once_it_is() throws Exception {
    List<String> said = run("life-paired", 400, "src/test/ble-lab/life.sh", "paired");
    int asked = indexOf(said, "pairing wanted");
    assertThat(said.subList(0, asked))
        .anyMatch(line -> line.contains("link scale") && line.contains("paired first"))
        .noneMatch(line -> line.startsWith("first "));
    assertThat(said).contains("pair: paired");
    told(LifeCase.of(said, "paired scale off"));
  }

  private static int indexOf(List<String> said, String words) {
    for (int i = 0; i < said.size(); i++) {
      if (said.get(i).contains(words)) {
        return i;
      }
    }
    throw new AssertionError(words + " in\n" + String.join("\n", said));
  }

  @Test
  void a_whole_rehearsal_survives_a_loss_in_mid_pour_and_reads_the_same_again() throws Exception {
    run("rehearse", 400, "src/test/ble-lab/rehearse.sh", OUT.toString(), "34", "3");
    ObjectMapper json = new ObjectMapper();
    JsonNode live = json.readTree(OUT.resolve("live.json").toFile());
    JsonNode again = json.readTree(OUT.resolve("again.json").toFile());
    assertThat(live.get("pours")).hasSize(3);
    assertThat(live.get("gaps")).isNotEmpty();
    assertThat(live.get("lift").isNull()).isFalse();
    double[] poured = {40, 60, 50};
    for (int i = 0; i < poured.length; i++) {
      JsonNode pour = live.get("pours").get(i);
      assertThat(pour.get("poured_g").asDouble()).isCloseTo(poured[i], within(1.0));
      assertThat(pour.get("across_gap").asBoolean()).isEqualTo(i == 1);
    }
    for (String part : List.of("pours", "gaps", "lift", "disturbances", "comparison")) {
      assertThat(again.get(part)).as(part).isEqualTo(live.get(part));
    }
  }
}
