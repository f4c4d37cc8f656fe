package pourwright.device.protocol;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder.Decoded;
import pourwright.device.LineSettings;
import pourwright.device.LineSettings.FlowControl;
import pourwright.device.LineSettings.Parity;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/**
 * Finds out which profile reads the bytes of an unknown scale on a cable, and how sure that is.
 *
 * <p>The confidence is a product of plain shares, not a probability: how much of what came was good
 * frames, how many of the weights a bench scale could show, whether there were enough of them, and
 * how much had to be taken on trust (no unit on the wire, no check in the frame).
 */
public final class Recognition {
  /** Speeds to try beside those of the profiles, most usual first (common practice, no source). */
  private static final int[] USUAL_BAUDS = {
    9600, 115_200, 4800, 19_200, 38_400, 57_600, 2400, 1200
  };

  /** Heavier than anything on a brewing bench: a sign of a misread frame. */
  private static final Mass HEAVIEST_PLAUSIBLE = Mass.ofMilligrams(50_000_000);

  /** With so many weights half of the doubt is gone. */
  private static final double WEIGHTS_FOR_HALF = 2.0;

  private static final double UNIT_ASSUMED = 0.8;
  private static final double UNIT_MISSING = 0.95;
  private static final double NO_CHECK = 0.9;
  private static final double UNUSUAL_LINK = 0.99;

  /** What came in while the line was set so. */
  public record Capture(LineSettings link, Bytes bytes) {}

  /**
   * One profile that reads some of a capture.
   *
   * @param link the line settings under which it does
   * @param weights how many were read
   * @param last the last of them
   * @param goodShare share of the bytes that were good frames, 0 to 1
   * @param confidence 0 to 1
   */
  public record Fit(
      Profile profile,
      LineSettings link,
      int weights,
      Mass last,
      double goodShare,
      double confidence) {}

  private Recognition() {}

  /** The line settings worth trying, those that some profile comes with first. */
  public static List<LineSettings> linksToTry(List<Profile> profiles) {
    Set<LineSettings> links = new LinkedHashSet<>();
    links.add(LineSettings.COMMON);
    onCables(profiles).forEach(profile -> links.add(profile.link()));
    for (int baud : USUAL_BAUDS) {
      links.add(LineSettings.COMMON.withBaud(baud));
    }
    for (int baud : new int[] {9600, 4800, 2400}) {
      links.add(new LineSettings(baud, 7, Parity.EVEN, 1, FlowControl.NONE));
    }
    return List.copyOf(links);
  }

  /** The profiles that read any weight, the surest first. */
  public static List<Fit> rank(List<Capture> captures, List<Profile> profiles) {
    List<Fit> fits = new ArrayList<>();
    for (Capture capture : captures) {
      for (Profile profile : onCables(profiles)) {
        fit(capture, profile).ifPresent(fits::add);
      }
    }
    fits.sort(Comparator.comparingDouble(Fit::confidence).reversed());
    return List.copyOf(fits);
  }

  private static List<Profile> onCables(List<Profile> profiles) {
    return profiles.stream().filter(profile -> profile.ble().isEmpty()).toList();
  }

  private static Optional<Fit> fit(Capture capture, Profile profile) {
    Tally tally = new Tally();
    StreamDecoder decoder = (StreamDecoder) profile.newDecoder();
    decoder.keepBooksIn(tally);
    decoder.feed(new Chunk(SessionTime.ZERO, capture.bytes()));
    Mass last = tally.last;
    if (last == null) {
      return Optional.empty();
    }
    double goodShare = tally.good / (double) (tally.good + tally.bad);
    double confidence =
        goodShare
            * (tally.plausible / (double) tally.weights)
            * (tally.weights / (tally.weights + WEIGHTS_FOR_HALF))
            * trust(profile, decoder, tally.weights)
            * (capture.link().equals(profile.link()) ? 1 : UNUSUAL_LINK);
    return Optional.of(
        new Fit(profile, capture.link(), tally.weights, last, goodShare, confidence));
  }

  private static double trust(Profile profile, StreamDecoder decoder, int weights) {
    if (decoder instanceof TextDecoder text) {
      double assumed = text.unitsAssumed() / (double) weights;
      double missing = text.unitsMissing() / (double) weights;
      return (1 - assumed * (1 - UNIT_ASSUMED)) * (1 - missing * (1 - UNIT_MISSING));
    }
    return profile.shape() instanceof FixedFrame frame && frame.isSelfProving() ? 1 : NO_CHECK;
  }

  /** Counts bytes by what became of them; the line cut by the beginning is nobody's fault. */
  private static final class Tally implements StreamDecoder.Ledger {
    private long good;
    private long bad;
    private int weights;
    private int plausible;
    private @Nullable Mass last;

    @Override
    public void booked(long from, long to, @Nullable Decoded what) {
      if (what == null) {
        return;
      }
      if (!(what instanceof Decoded.Junk)) {
        good += to - from;
      } else if (from > 0) {
        bad += to - from;
      }
      if (what instanceof Decoded.Weighed weighed) {
        Mass mass = weighed.reading().mass();
        weights++;
        plausible += mass.abs().compareTo(HEAVIEST_PLAUSIBLE) <= 0 ? 1 : 0;
        last = mass;
      }
    }
  }
}
