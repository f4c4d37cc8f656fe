package pourwright.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;

/** What the brewer should know about how well a recording could be read, in plain sentences. */
final class Remarks {
  /** From this step on, a display is coarse (g); own choice. */
  private static final double COARSE_GRAMS = 0.5;

  /** From this scatter on, a scale is restless (g); own choice. */
  private static final double RESTLESS_GRAMS = 0.25;

  /** Below this rate, moments suffer (1/s); own choice. */
  private static final double FEW_PER_SECOND = 5;

  /** From this lag on, a measured one is worth having (s); own choice. */
  private static final double SLOW_SECONDS = 0.3;

  private Remarks() {}

  /**
   * Everything worth saying.
   *
   * @param lag of the scale the pours were found on, given or found (s); empty where unknown
   */
  static List<String> of(
      Optional<Track> whole, Optional<Track> server, OptionalDouble lag, Findings findings) {
    List<String> remarks = new ArrayList<>();
    for (Findings.Gap gap : findings.gaps()) {
      remarks.add(
          say(
              "No weights arrived from %.1f to %.1f s.",
              gap.start().seconds(), gap.end().seconds()));
    }
    for (Findings.Pour pour : findings.pours()) {
      if (pour.acrossGap()) {
        remarks.add(
            say(
                "Pour %d was rebuilt from what was weighed before and after the missing weights.",
                pour.index()));
      } else if (pour.endAnnounced().isEmpty()) {
        remarks.add(say("Pour %d was still running, or its end was not seen live.", pour.index()));
      }
    }
    whole.ifPresent(track -> about(track, remarks));
    if (whole.isEmpty()) {
      server.ifPresent(track -> about(track, remarks));
      if (!findings.pours().isEmpty()) {
        remarks.add("Pours were inferred from what ran into the server; their masses are rough.");
      }
    }
    lag.ifPresent(
        seconds -> {
          if (seconds >= SLOW_SECONDS) {
            remarks.add(
                say(
                    "The scale runs about %.1f s behind; a measured lag makes the moments exacter.",
                    seconds));
          }
        });
    return remarks;
  }

  private static void about(Track track, List<String> remarks) {
    if (track.size() == 0) {
      return;
    }
    if (track.resolution() >= COARSE_GRAMS) {
      remarks.add(
          say("The display moves in steps of %.1f g, so masses are rough.", track.resolution()));
    } else if (track.noise() >= RESTLESS_GRAMS) {
      remarks.add(say("The scale is restless: readings scatter by %.1f g.", track.noise()));
    }
    if (1 / track.period() < FEW_PER_SECOND) {
      remarks.add(
          say("Only %.1f weights a second arrived, so moments are rough.", 1 / track.period()));
    }
  }

  private static String say(String sentence, Object... values) {
    return String.format(Locale.ROOT, sentence, values);
  }
}
