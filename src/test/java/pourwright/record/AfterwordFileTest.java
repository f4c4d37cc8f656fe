package pourwright.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIOException;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import pourwright.session.Afterword;
import pourwright.units.Mass;

class AfterwordFileTest {
  private static final Afterword WORDS =
      new Afterword(
          1,
          OptionalDouble.of(1.38),
          Optional.of("round \"and\" short\nnext finer"),
          Map.of(2, Mass.ofMilligrams(64_500), 1, Mass.ofMilligrams(40_000)));

  @TempDir
  @SuppressWarnings("NullAway.Init")
  private Path folder;

  @Test
  void words_are_kept_and_later_ones_replace_them() throws Exception {
    AfterwordFile file = new AfterwordFile(() -> Optional.of(folder), 1);
    file.keep(new Afterword(1, OptionalDouble.empty(), Optional.empty(), Map.of()));
    file.keep(WORDS);
    JsonNode kept = new ObjectMapper().readTree(folder.resolve("afterword.json").toFile());
    assertThat(kept.at("/strength_pct").asDouble()).isEqualTo(1.38);
    assertThat(kept.at("/note").asText()).isEqualTo("round \"and\" short\nnext finer");
    assertThat(kept.at("/estimates/0/pour").asInt()).isEqualTo(1);
    assertThat(kept.at("/estimates/1/poured_g").asDouble()).isEqualTo(64.5);
    assertThat(folder).isDirectoryContaining(path -> path.endsWith("afterword.json"));
    assertThat(folder.resolve("afterword.json.new")).doesNotExist();
  }

  @Test
  void each_of_several_lanes_has_its_own() throws Exception {
    Files.createDirectory(folder.resolve("lane-1"));
    new AfterwordFile(() -> Optional.of(folder), 2).keep(WORDS);
    assertThat(folder.resolve("lane-1/afterword.json")).exists();
  }

  @Test
  void what_cannot_be_kept_is_told_in_a_sentence() {
    assertThatIOException()
        .isThrownBy(() -> new AfterwordFile(Optional::empty, 1).keep(WORDS))
        .withMessageContaining("Write them down.");
    Path missing = folder.resolve("gone");
    assertThatIOException()
        .isThrownBy(() -> new AfterwordFile(() -> Optional.of(missing), 1).keep(WORDS))
        .withMessageStartingWith("Your words could not be kept in ");
  }
}
