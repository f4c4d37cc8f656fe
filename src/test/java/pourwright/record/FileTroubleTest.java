package pourwright.record;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import org.junit.jupiter.api.Test;

class FileTroubleTest {
  @Test
  void what_the_system_says_in_a_word_or_not_at_all_is_a_sentence() {
    assertThat(FileTrouble.sentence(new AccessDeniedException("a.csv")))
        .isEqualTo("a.csv: you may not read or write there; check its permissions");
    assertThat(FileTrouble.sentence(new NoSuchFileException("a.csv")))
        .isEqualTo("a.csv: there is no such file or folder");
    assertThat(FileTrouble.sentence(new FileAlreadyExistsException("a")))
        .isEqualTo("a: a file of that name is in the way");
    assertThat(FileTrouble.sentence(new FileSystemException("a", null, "No space left on device")))
        .isEqualTo("a: the disk is full; make room there");
    assertThat(FileTrouble.sentence(new FileSystemException("a", null, "Read-only file system")))
        .isEqualTo("a: the disk is write-protected");
  }

  @Test
  void a_sentence_that_was_written_for_people_stays() {
    assertThat(FileTrouble.sentence(new IOException("the journal sleeps; wake it")))
        .isEqualTo("the journal sleeps; wake it");
    assertThat(FileTrouble.reason(new IOException("No space left on device")))
        .isEqualTo("the disk is full; make room there");
    assertThat(FileTrouble.reason(new FileSystemException("a", null, "Too many links")))
        .isEqualTo("Too many links");
  }
}
