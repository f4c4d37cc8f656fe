package pourwright.review;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeSet;
import pourwright.compare.Comparison.JudgedPour;
import pourwright.compare.Comparison.Kind;
import pourwright.statistic.Holm;
import pourwright.statistic.Line;

/**
 * What was in the cups, and whether the pours can be seen in it.
 *
 * @param cups runs with a strength reading
 * @param scores tasting scores by item, mean of a run's tastings
 * @param links what was looked for, each with what can honestly be said
 */
public record CupReview(List<Cup> cups, List<Score> scores, List<Link> links) {

  /** Fewer cups tell nothing about a line: ten per predictor, common practice, no source. */
  public static final int RUNS_FOR_LINK = 10;

  public CupReview {
    cups = List.copyOf(cups);
    scores = List.copyOf(scores);
    links = List.copyOf(links);
  }

  /** One cup. */
  public record Cup(long run, Extraction extraction) {}

  /** One item of the tastings over runs. */
  public record Score(String item, Series series) {}

  /**
   * A straight line of something in the cup on something in the pours.
   *
   * @param cup what was measured or tasted
   * @param pours the error it is held against, per unit
   * @param runs with both
   * @param line empty with fewer than {@link #RUNS_FOR_LINK} runs, or without any difference
   * @param adjustedP with all links asked at once allowed for (Holm); 1 without a line
   */
  public record Link(String cup, String pours, int runs, Optional<Line> line, double adjustedP) {

    /** Whether chance is an unlikely reason. */
    public boolean isClear() {
      return adjustedP < 1 - Series.CONFIDENCE;
    }

    /** What can be said, in one sentence. */
    public String sentence() {
      if (line.isEmpty()) {
        return runs < RUNS_FOR_LINK
            ? String.format(
                Locale.ROOT,
                "%s and %s: too few runs to say (%d of %d).",
                cup,
                pours,
                runs,
                RUNS_FOR_LINK)
            : String.format(Locale.ROOT, "%s and %s: nothing varied.", cup, pours);
      }
      if (!isClear()) {
        return String.format(
            Locale.ROOT,
            "%s and %s: no link seen in %d runs (p %.2f); that is no proof there is none.",
            cup,
            pours,
            runs,
            adjustedP);
      }
      return String.format(
          Locale.ROOT,
          "%s changes by %s per unit of %s in %d runs (95 %%: %s to %s); seen together, not proven"
              + " to be the cause.",
          cup,
          signed(line.get().slope()),
          pours,
          runs,
          signed(line.get().slopeInterval(Series.CONFIDENCE).low()),
          signed(line.get().slopeInterval(Series.CONFIDENCE).high()));
    }

    private static String signed(double value) {
      return (value < 0 ? "−" : "+") + String.format(Locale.ROOT, "%.3f", Math.abs(value));
    }
  }

  static CupReview of(List<Run> runs) {
    List<Cup> cups = new ArrayList<>();
    Map<String, Map<Long, Double>> found = new LinkedHashMap<>();
    for (Run run : runs) {
      Extraction.of(run)
          .ifPresent(
              extraction -> {
                cups.add(new Cup(run.id(), extraction));
                put(found, "strength (%)", run, extraction.strengthPercent());
                extraction
                    .percent()
                    .ifPresent(percent -> put(found, "extraction (%)", run, percent));
              });
    }
    List<Score> scores = new ArrayList<>();
    for (String item : items(runs)) {
      List<Series.Point> points = new ArrayList<>();
      for (Run run : runs) {
        score(run, item)
            .ifPresent(
                score -> {
                  points.add(new Series.Point(run.id(), score));
                  put(found, item, run, score);
                });
      }
      scores.add(new Score(item, new Series(points)));
    }
    return new CupReview(cups, scores, links(runs, found));
  }

  private static void put(
      Map<String, Map<Long, Double>> found, String name, Run run, double value) {
    found.computeIfAbsent(name, first -> new LinkedHashMap<>()).put(run.id(), value);
  }

  private static Iterable<String> items(List<Run> runs) {
    TreeSet<String> items = new TreeSet<>();
    runs.forEach(
        run -> run.cup().tastings().forEach(tasting -> items.addAll(tasting.scores().keySet())));
    return items;
  }

  private static OptionalDouble score(Run run, String item) {
    return run.cup().tastings().stream()
        .filter(tasting -> tasting.scores().containsKey(item))
        .mapToDouble(tasting -> tasting.scores().getOrDefault(item, 0.0))
        .average();
  }

  private static List<Link> links(List<Run> runs, Map<String, Map<Long, Double>> found) {
    Map<String, Map<Long, Double>> errors = new LinkedHashMap<>();
    for (Run run : runs) {
      put(errors, "water poured over plan (g)", run, overPlan(run));
      put(errors, "flow over plan (g/s)", run, mean(run, Kind.FLOW));
      put(errors, "lateness of the pours (s)", run, mean(run, Kind.START));
    }
    List<Link> raw = new ArrayList<>();
    found.forEach(
        (cup, values) -> errors.forEach((pours, off) -> raw.add(link(cup, values, pours, off))));
    double[] adjusted =
        Holm.adjusted(
            raw.stream().flatMap(link -> link.line().stream()).mapToDouble(Line::slopeP).toArray());
    List<Link> links = new ArrayList<>();
    int next = 0;
    for (Link link : raw) {
      double p = link.line().isPresent() ? adjusted[next++] : 1;
      links.add(new Link(link.cup(), link.pours(), link.runs(), link.line(), p));
    }
    return links;
  }

  private static Link link(
      String cup, Map<Long, Double> values, String pours, Map<Long, Double> errors) {
    List<Long> both = values.keySet().stream().filter(errors::containsKey).toList();
    double[] x = both.stream().mapToDouble(run -> errors.getOrDefault(run, 0.0)).toArray();
    double[] y = both.stream().mapToDouble(run -> values.getOrDefault(run, 0.0)).toArray();
    boolean isEnough =
        both.size() >= RUNS_FOR_LINK
            && java.util.Arrays.stream(x).distinct().count() > 2
            && java.util.Arrays.stream(y).distinct().count() > 1;
    return new Link(
        cup, pours, both.size(), isEnough ? Optional.of(Line.of(x, y)) : Optional.empty(), 1);
  }

  private static double overPlan(Run run) {
    return run.comparison().pours().stream().mapToDouble(pour -> pour.massError().grams()).sum();
  }

  private static double mean(Run run, Kind kind) {
    return run.comparison().pours().stream()
        .flatMapToDouble(pour -> error(pour, kind).stream())
        .average()
        .orElse(0);
  }

  private static OptionalDouble error(JudgedPour pour, Kind kind) {
    return PourReview.error(pour, kind);
  }
}
