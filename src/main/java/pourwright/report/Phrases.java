package pourwright.report;

import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import pourwright.coach.Feedback;
import pourwright.compare.Comparison.Kind;
import pourwright.review.Cost;
import pourwright.review.CupReview;
import pourwright.review.Difference;
import pourwright.review.Extraction;
import pourwright.review.Lesson;
import pourwright.review.Readiness;
import pourwright.review.Series;
import pourwright.statistic.Interval;
import pourwright.statistic.Proportion;
import pourwright.statistic.Welch;

/** The words of a review, the same on paper, on the page and in the terminal. */
public final class Phrases {
  private static final String NONE = "–";

  private Phrases() {}

  /** With its sign, a true minus. */
  public static String signed(double value, int decimals) {
    String digits = plain(Math.abs(value), decimals);
    if (digits.chars().noneMatch(digit -> digit >= '1' && digit <= '9')) {
      return digits;
    }
    return (value < 0 ? "−" : "+") + digits;
  }

  /** With a true minus where it is negative. */
  public static String plain(double value, int decimals) {
    return String.format(Locale.ROOT, "%." + decimals + "f", value).replace('-', '−');
  }

  public static String percent(double share) {
    return plain(100 * share, 0) + " %";
  }

  /** A bias and where it can lie. */
  public static String bias(Series errors) {
    return signedMean(errors, 1);
  }

  static String signedMean(Series series, int decimals) {
    if (series.isEmpty()) {
      return NONE;
    }
    return signed(series.mean().orElseThrow(), decimals)
        + series
            .meanInterval()
            .map(
                interval ->
                    " ("
                        + signed(interval.low(), decimals)
                        + " to "
                        + signed(interval.high(), decimals)
                        + ")")
            .orElse("");
  }

  /** A mean of figures that are never negative, and where it can lie. */
  public static String mean(Series series, int decimals) {
    if (series.isEmpty()) {
      return NONE;
    }
    return plain(series.mean().orElseThrow(), decimals) + range(series.meanInterval(), decimals);
  }

  /** A scatter and where it can lie. */
  public static String spread(Series errors, int decimals) {
    OptionalDouble spread = errors.spread();
    return spread.isEmpty()
        ? NONE
        : plain(spread.getAsDouble(), decimals) + range(errors.spreadInterval(), decimals);
  }

  private static String range(Optional<Interval> interval, int decimals) {
    return interval
        .map(
            where ->
                " ("
                    + plain(Math.max(0, where.low()), decimals)
                    + " to "
                    + plain(where.high(), decimals)
                    + ")")
        .orElse("");
  }

  /** So many of so many, and where the true share can lie. */
  public static String share(Proportion share) {
    Interval interval = share.clopperPearson(Series.CONFIDENCE);
    return share.successes()
        + " of "
        + share.trials()
        + " ("
        + plain(100 * interval.low(), 0)
        + " to "
        + plain(100 * interval.high(), 0)
        + " %)";
  }

  /** Which way a figure goes from run to run; the sign is that of the figure. */
  public static String direction(Series series, String unit) {
    Optional<Series.Direction> direction = series.direction();
    if (direction.isEmpty()) {
      return "too few runs";
    }
    if (!direction.get().isClear()) {
      return series.size() < Series.RUNS_FOR_TREND ? "too few runs" : "no clear trend";
    }
    double slope = direction.get().line().slope();
    return signed(slope, Math.abs(slope) < 0.1 ? 3 : 2)
        + (unit.isEmpty() ? "" : " " + unit)
        + " a run (p "
        + p(direction.get().order().p())
        + ")";
  }

  /** A chance of error; never said to be none. */
  public static String p(double p) {
    return p < 0.001 ? "< 0.001" : plain(p, p < 0.1 ? 3 : 2);
  }

  /** What a cost is about. */
  public static String cost(Cost cost) {
    return switch (cost.cause()) {
      case MASS -> "water of pour " + cost.pour().orElseThrow();
      case START -> "start of pour " + cost.pour().orElseThrow();
      case FLOW -> "flow of pour " + cost.pour().orElseThrow();
      case MISSED -> "pour " + cost.pour().orElseThrow() + " missed";
      case EXTRA -> "water the plan does not ask for";
    };
  }

  public static String feedback(Feedback feedback) {
    return switch (feedback) {
      case FULL -> "full guidance";
      case BANDWIDTH -> "only when outside";
      case FADED -> "fading guidance";
      case BLIND -> "blind";
    };
  }

  /** What stays when nothing guides. */
  public static String retention(Series retention) {
    Optional<Interval> where = retention.meanInterval();
    if (where.isEmpty()) {
      return "Two blind runs beside guided ones are needed to see what stays without guidance.";
    }
    Interval interval = where.get();
    String range =
        "deviation index "
            + signedMean(retention, 2)
            + " in "
            + retention.size()
            + " blind runs, against the guided ones next to them";
    if (interval.low() > 0) {
      return "Guidance still carries you: " + range + ".";
    }
    return interval.high() < 0
        ? "You are better blind than guided: " + range + "."
        : "No difference between blind and guided runs can be told: " + range + ".";
  }

  /** How well own guesses meet the truth. */
  public static String guesses(Series guesses) {
    if (guesses.isEmpty()) {
      return "No pour has been guessed yet; blind runs ask for your own estimate.";
    }
    return "Your guesses are off by "
        + signedMean(guesses, 1)
        + " g on average, scatter "
        + spread(guesses, 1)
        + " g, in "
        + guesses.size()
        + (guesses.size() == 1 ? " guess." : " guesses.");
  }

  /** The chance of the next run. */
  public static String coming(Readiness readiness) {
    return readiness
        .coming()
        .map(
            coming ->
                "If it goes on as it went, the next run is clean with a chance of "
                    + percent(coming.chance())
                    + " (95 %: "
                    + plain(100 * coming.interval().low(), 0)
                    + " to "
                    + plain(100 * coming.interval().high(), 0)
                    + " %).")
        .orElse(
            "From "
                + Readiness.RUNS_FOR_COMING
                + " runs on, the chance of the next one is told too.");
  }

  /** The pour that fails most. */
  public static String weakest(Readiness readiness) {
    return readiness
        .weakest()
        .map(pour -> "Weakest: pour " + pour.pour() + ", inside in " + share(pour.inside()) + ".")
        .orElse("No pour has ever been outside.");
  }

  /** What a difference comes to; {@code first} and {@code second} name the groups. */
  public static String difference(Difference.Line line, String first, String second) {
    if (line.test().isEmpty()) {
      return line.what() + ": too few runs to compare.";
    }
    Welch test = line.test().get();
    Interval interval = test.interval(Series.CONFIDENCE);
    String unit = line.unit().isEmpty() ? "" : " " + line.unit();
    return line.what()
        + ": "
        + first
        + " less "
        + second
        + " "
        + signed(test.difference(), 2)
        + unit
        + " (95 %: "
        + signed(interval.low(), 2)
        + " to "
        + signed(interval.high(), 2)
        + ", p "
        + p(line.adjustedP())
        + (line.isClear() ? ")." : "; may be chance).");
  }

  /** Kind of error with its unit. */
  public static String kind(Kind kind) {
    return Lesson.noun(kind) + ", " + Lesson.unit(kind);
  }

  public static String day(Instant at, ZoneId zone) {
    return DateTimeFormatter.ofPattern("d MMM uuuu", Locale.ENGLISH).withZone(zone).format(at);
  }

  public static String moment(Instant at, ZoneId zone) {
    return DateTimeFormatter.ofPattern("d MMM uuuu, HH:mm", Locale.ENGLISH)
        .withZone(zone)
        .format(at);
  }

  public static String runs(int count) {
    return count == 1 ? "1 run" : count + " runs";
  }

  /** With its expanded uncertainty. */
  public static String strength(Extraction extraction) {
    return plain(extraction.strengthPercent(), 2)
        + " ± "
        + plain(Extraction.COVERAGE * extraction.strengthUncertainty(), 2);
  }

  /** With its expanded uncertainty, or why there is none. */
  public static String extracted(Extraction extraction) {
    return extraction.percent().isEmpty()
        ? "beverage not weighed"
        : plain(extraction.percent().getAsDouble(), 1)
            + " ± "
            + plain(Extraction.COVERAGE * extraction.uncertainty(), 1);
  }

  /** Against the published region. */
  public static String place(Extraction extraction) {
    return extraction
        .place()
        .map(place -> place.words() + (extraction.isCloseCall() ? ", near a limit" : ""))
        .orElse("–");
  }

  /** What can be said of cup and pours: what is clear, then what is not, in as few lines. */
  public static List<String> links(CupReview cup) {
    List<String> said = new ArrayList<>();
    cup.links().stream().filter(CupReview.Link::isClear).forEach(link -> said.add(link.sentence()));
    Set<String> clear =
        cup.links().stream()
            .filter(CupReview.Link::isClear)
            .map(CupReview.Link::cup)
            .collect(Collectors.toSet());
    List<CupReview.Link> tested =
        cup.links().stream()
            .filter(link -> link.line().isPresent() && !clear.contains(link.cup()))
            .toList();
    if (!tested.isEmpty()) {
      said.add(
          "No link with the pours seen for: "
              + names(tested)
              + "; that is no proof there is none.");
    }
    List<CupReview.Link> few =
        cup.links().stream().filter(link -> link.runs() < CupReview.RUNS_FOR_LINK).toList();
    if (!few.isEmpty()) {
      said.add(
          "Too few cups to hold against the pours, "
              + CupReview.RUNS_FOR_LINK
              + " are needed: "
              + names(few)
              + ".");
    }
    return said;
  }

  private static String names(List<CupReview.Link> links) {
    return links.stream()
        .map(link -> link.cup() + " (" + link.runs() + ")")
        .distinct()
        .collect(Collectors.joining(", "));
  }
}
