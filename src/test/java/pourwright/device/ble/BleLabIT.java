package pourwright.device.ble;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The link on a real Bluetooth stack, in a virtual machine with two virtual radios. Run by {@code
 * mvn verify -Pble-lab -Dble.lab=DIR}; DIR holds the lab's {@code run-in-vm}.
 */
@Tag("ble-lab")
class BleLabIT {
  private static final Path LAB = Path.of(System.getProperty("ble.lab", ""), "run-in-vm");
  private static final Path OUT = Path.of("target", "ble-lab").toAbsolutePath();

  @BeforeAll
  static void look() throws IOException {
    boolean isThere = !System.getProperty("ble.lab", "").isEmpty() && Files.isExecutable(LAB);
    if (!isThere) {
      System.err.println("NOT TESTED on a real Bluetooth stack: -Dble.lab names no lab: " + LAB);
    }
    assumeTrue(isThere, "no Bluetooth lab");
    Files.createDirectories(OUT);
  }

  /** Of life.sh. */
  private static final int CASES = 6;

  private static String find(List<String> said, String words) {
    return said.stream()
        .filter(line -> line.contains(words))
        .findFirst()
        .orElseThrow(() -> new AssertionError(words + " in\n" + String.join("\n", said)));
  }

  private static List<String> run(String name, boolean hasScale, int limitSeconds, String... script)
      throws Exception {
    List<String> command = new ArrayList<>(List.of(LAB.toString(), "-o", OUT.toString()));
    command.addAll(List.of("-t", Integer.toString(limitSeconds)));
    if (hasScale) {
      command.add("-p");
    }
    command.add("bash");
    command.addAll(List.of(script));
    Path log = OUT.resolve(name + ".log");
    ProcessBuilder builder = new ProcessBuilder(command);
    builder.environment().putAll(Map.of("SCALE_ARGS", "--format binary --rate 20"));
    Process process = builder.redirectErrorStream(true).redirectOutput(log.toFile()).start();
    assertThat(process.waitFor(limitSeconds + 60L, TimeUnit.SECONDS)).isTrue();
    List<String> said = Files.readAllLines(log, StandardCharsets.UTF_8);
    assertThat(process.exitValue()).as(String.join("\n", said)).isZero();
    return said;
  }

  /** The numbers of the first line that fits, in order. */
  private static List<Double> numbers(List<String> said, String pattern) {
    Matcher fits =
        said.stream()
            .map(Pattern.compile(pattern)::matcher)
            .filter(Matcher::find)
            .findFirst()
            .orElseThrow(() -> new AssertionError(pattern + " in\n" + String.join("\n", said)));
    List<Double> numbers = new ArrayList<>();
    for (int i = 1; i <= fits.groupCount(); i++) {
      numbers.add(Double.parseDouble(fits.group(i)));
    }
    return numbers;
  }

  @ParameterizedTest
  @ValueSource(ints = {10, 80})
  void every_value_sent_arrives_in_order(int rate) throws Exception {
    List<String> said =
        run("rate-" + rate, true, 300, "src/test/ble-lab/rates.sh", "20", Integer.toString(rate));
    List<Double> counts =
        numbers(said, "received (\\d+) missing (\\d+) late (\\d+) repeated (\\d+)");
    assertThat(counts.get(0)).isGreaterThan(100.0);
    assertThat(counts.subList(1, 4)).containsOnly(0.0);
  }

  @Test
  void a_scale_is_taken_again_whatever_parts_the_link() throws Exception {
    List<String> said = run("life", true, 600, "src/test/ble-lab/life.sh");
    assertThat(said).noneMatch(line -> line.contains("event never:"));
    assertThat(said).filteredOn(line -> line.matches("[0-9.]+ event .* ends")).hasSize(CASES);
    assertThat(said)
        .filteredOn(line -> line.matches("[0-9.]+ back .*"))
        .hasSizeGreaterThanOrEqualTo(CASES);
    // Silence has no event, so its limit is the one that has to hold.
    List<Double> silent = numbers(said, " lost ([0-9.]+) last ([0-9.]+) why .*nothing came");
    assertThat(silent.get(0) - silent.get(1)).isLessThan(2.0);
    int already = said.indexOf(find(said, "event connected already"));
    assertThat(said.subList(already, said.size())).anyMatch(line -> line.contains(" first "));
  }

  @Test
  void a_whole_rehearsal_survives_a_loss_in_mid_pour_and_reads_the_same_again() throws Exception {
    run("rehearse", false, 400, "src/test/ble-lab/rehearse.sh", OUT.toString(), "34", "3");
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
