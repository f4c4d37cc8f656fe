package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import pourwright.detect.PourEvent.Discarded;
import pourwright.detect.PourEvent.PourEnded;
import pourwright.detect.PourEvent.PourStarted;
import pourwright.units.Mass;

class CandidateTest {
  private static final Track TRACK = Readings.of(30, t -> 50);

  private static PourStarted started(int index, double at) {
    return new PourStarted(index, Readings.at(at), Readings.at(at + 0.5));
  }

  private static PourEnded ended(int index, double at) {
    return new PourEnded(index, Readings.at(at), Readings.at(at + 1), Mass.ofGrams(10));
  }

  @Test
  void each_start_goes_with_the_end_that_follows_it() {
    List<Candidate> found =
        Candidate.of(
            List.of(
                started(1, 3),
                ended(1, 6),
                new Discarded(Readings.at(7), Readings.at(8)),
                ended(1, 9),
                started(1, 12),
                ended(1, 15),
                started(2, 20)),
            TRACK);
    assertThat(found).hasSize(3);
    assertThat(found).extracting(Candidate::start).containsExactly(3.0, 12.0, 20.0);
    assertThat(found.get(0).end()).isEqualTo(6);
    assertThat(found.get(0).startSaid()).contains(Readings.at(3.5));
    assertThat(found.get(0).endSaid()).contains(Readings.at(7));
    assertThat(found.get(2).end()).isCloseTo(30, within(1e-9)); // still running
    assertThat(found.get(2).endSaid()).isEmpty();
  }

  @Test
  void joined_it_runs_from_the_first_start_to_the_last_end() {
    Candidate one = Candidate.of(List.of(started(1, 3), ended(1, 6)), TRACK).get(0);
    Candidate open = Candidate.of(List.of(started(2, 7)), TRACK).get(0);
    Candidate both = one.joined(open.withEnd(11));
    assertThat(both.start()).isEqualTo(3);
    assertThat(both.end()).isEqualTo(11);
    assertThat(both.startSaid()).isEqualTo(one.startSaid());
    assertThat(both.endSaid()).isEqualTo(one.endSaid());
    assertThat(open.joined(one).endSaid()).isEqualTo(one.endSaid());
  }
}
