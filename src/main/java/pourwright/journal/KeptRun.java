package pourwright.journal;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import pourwright.session.RunStart;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * All that is kept of a run, but its curves.
 *
 * @param program name and version of the program that recorded it
 * @param plan as it was then; empty for a free run, and where this program cannot read it
 * @param judgement the one that counts; empty while the run is being recorded
 * @param strengths in the order they were taken
 * @param tastings in the order they were made
 * @param estimates what the brewer believed to have poured, by pour from 1
 * @param seenDry when the brewer said that the bed had drained, in order
 */
public record KeptRun(
    RunEntry entry,
    String program,
    Optional<RunStart.WrittenPlan> plan,
    List<RunStart.HeardScale> scales,
    Optional<Judgement> judgement,
    List<StrengthReading> strengths,
    List<Tasting> tastings,
    Map<Integer, Mass> estimates,
    List<SessionTime> seenDry) {
  public KeptRun {
    scales = List.copyOf(scales);
    strengths = List.copyOf(strengths);
    tastings = List.copyOf(tastings);
    estimates = Map.copyOf(estimates);
    seenDry = List.copyOf(seenDry);
  }
}
