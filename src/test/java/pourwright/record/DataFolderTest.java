package pourwright.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DataFolderTest {
  private static final Path HOME = Path.of("/home/b");

  private static Path find(Optional<Path> named, Map<String, String> environment, String system) {
    return DataFolder.find(named, environment, HOME, system).path();
  }

  @Test
  void the_command_line_comes_before_the_environment_and_that_before_the_usual_place() {
    Map<String, String> environment = Map.of("POURWRIGHT_DATA", "/data/e", "XDG_DATA_HOME", "/xdg");

    assertThat(find(Optional.of(Path.of("/data/n")), environment, "Linux"))
        .isEqualTo(Path.of("/data/n"));
    assertThat(find(Optional.empty(), environment, "Linux")).isEqualTo(Path.of("/data/e"));
    assertThat(find(Optional.empty(), Map.of("XDG_DATA_HOME", "/xdg"), "Linux"))
        .isEqualTo(Path.of("/xdg/pourwright"));
  }

  @Test
  void every_system_has_its_usual_place() {
    assertThat(find(Optional.empty(), Map.of(), "Linux"))
        .isEqualTo(Path.of("/home/b/.local/share/pourwright"));
    assertThat(find(Optional.empty(), Map.of("XDG_DATA_HOME", "not/absolute"), "Linux"))
        .isEqualTo(Path.of("/home/b/.local/share/pourwright"));
    assertThat(find(Optional.empty(), Map.of("POURWRIGHT_DATA", " "), "Mac OS X"))
        .isEqualTo(Path.of("/home/b/Library/Application Support/pourwright"));
    assertThat(find(Optional.empty(), Map.of(), "Windows 11"))
        .isEqualTo(Path.of("/home/b/AppData/Local/pourwright"));
    assertThat(find(Optional.empty(), Map.of("LOCALAPPDATA", "/local"), "Windows 11"))
        .isEqualTo(Path.of("/local/pourwright"));
  }

  @Test
  void a_folder_that_cannot_be_made_is_named_with_a_way_out(@TempDir Path folder)
      throws IOException {
    Path file = Files.writeString(folder.resolve("file"), "in the way");

    assertThatThrownBy(() -> new DataFolder(file).checkWritable())
        .isInstanceOf(IOException.class)
        .hasMessageContaining(file.toString())
        .hasMessageContaining("--data");
  }

  @Test
  void a_check_leaves_nothing_behind(@TempDir Path folder) throws IOException {
    DataFolder data = new DataFolder(folder.resolve("new"));
    data.checkWritable();

    assertThat(data.path()).isEmptyDirectory();
  }
}
