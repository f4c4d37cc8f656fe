package pourwright.recording;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.when;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class AppendFileTest {
  @Test
  void text_is_in_the_file_once_flushed(@TempDir Path folder) throws IOException {
    Path path = folder.resolve("a");
    try (AppendFile file = AppendFile.create(path)) {
      file.append("one ");
      assertThat(Files.readString(path)).isEmpty();
      file.flush();
      assertThat(Files.readString(path)).isEqualTo("one ");
      file.append("x".repeat(20_000));
      file.append("é");
    }
    assertThat(Files.readString(path)).isEqualTo("one " + "x".repeat(20_000) + "é");
  }

  @Test
  void an_existing_file_is_never_touched(@TempDir Path folder) throws IOException {
    Path path = Files.writeString(folder.resolve("a"), "old");
    assertThatThrownBy(() -> AppendFile.create(path))
        .isInstanceOf(FileAlreadyExistsException.class);
    assertThat(Files.readString(path)).isEqualTo("old");
  }

  @Test
  void what_a_full_disk_refused_goes_out_when_there_is_room_again() throws IOException {
    ByteArrayOutputStream disk = new ByteArrayOutputStream();
    int[] room = {3};
    FileChannel channel = mock(FileChannel.class);
    when(channel.write(any(ByteBuffer.class)))
        .thenAnswer(
            call -> {
              ByteBuffer from = call.getArgument(0);
              if (room[0] == 0) {
                throw new IOException("No space left on device");
              }
              int count = Math.min(room[0], from.remaining());
              byte[] taken = new byte[count];
              from.get(taken);
              disk.write(taken);
              room[0] -= count;
              return count;
            });
    AppendFile file = AppendFile.over(channel);
    file.append("abcdef");
    assertThatThrownBy(file::flush).hasMessageContaining("No space left");
    file.append("gh");
    assertThatThrownBy(file::flush).hasMessageContaining("No space left");
    assertThat(file.pending()).isEqualTo(5);
    room[0] = 100;
    file.flush();
    assertThat(file.pending()).isZero();
    assertThat(disk.toString(StandardCharsets.UTF_8)).isEqualTo("abcdefgh");
  }
}
