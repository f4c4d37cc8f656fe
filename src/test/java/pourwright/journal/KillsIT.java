package pourwright.journal;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A few rounds of {@link Kills}. */
@Timeout(180)
class KillsIT {
  private static final int ROUNDS = 6;

  /** A busy machine may keep the disk waiting beyond the half second between two commits. */
  private static final double MOST_LOST_ON_A_BUSY_MACHINE_SECONDS = 3;

  @Test
  void programs_that_are_killed_while_they_record_lose_the_last_moment_only(@TempDir Path folder)
      throws Exception {
    Kills kills = new Kills(folder, 42);
    for (int i = 0; i < ROUNDS; i++) {
      Kills.Round round = kills.round(i);
      assertThat(round.wrong()).isEmpty();
      assertThat(round.lostSeconds()).isLessThan(MOST_LOST_ON_A_BUSY_MACHINE_SECONDS);
    }
  }
}
