package pourwright.check;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.LongFunction;
import pourwright.performance.Estimate;

/**
 * How often the stated intervals hold the truth: whole checks of invented scales with flaws of
 * known size. Arguments: how many seeds for each family (200), the first seed (1).
 */
public final class CoverageBench {
  private CoverageBench() {}

  /** Hits of one figure. */
  static final class Hits {
    private int covered;
    private int all;
    private double halfWidths;
    private double errors;

    void add(Estimate estimate, double truth) {
      all++;
      covered += estimate.covers(truth) ? 1 : 0;
      halfWidths += estimate.halfWidth();
      errors += Math.abs(estimate.value() - truth);
    }

    int covered() {
      return covered;
    }

    int all() {
      return all;
    }
  }

  static Map<String, Hits> tally(
      LongFunction<FlawedFamily.Outcome> scales, long firstSeed, int count) {
    Map<String, Hits> hits = new LinkedHashMap<>();
    for (long seed = firstSeed; seed < firstSeed + count; seed++) {
      FlawedFamily.Outcome outcome = scales.apply(seed);
      outcome
          .truths()
          .forEach(
              (key, truth) -> {
                Estimate estimate = outcome.estimates().get(key);
                if (estimate != null) {
                  hits.computeIfAbsent(key, fresh -> new Hits()).add(estimate, truth);
                }
              });
    }
    return hits;
  }

  public static void main(String[] args) {
    int count = args.length > 0 ? Integer.parseInt(args[0]) : 200;
    long first = args.length > 1 ? Long.parseLong(args[1]) : 1;
    Map<String, Integer> covered = new TreeMap<>();
    Map<String, Integer> all = new TreeMap<>();
    Map<String, LongFunction<FlawedFamily.Outcome>> families = new LinkedHashMap<>();
    for (FlawedFamily family : FlawedFamily.values()) {
      families.put(family.toString(), family::run);
    }
    families.put("FREEZING", FreezingScales::run);
    families.forEach(
        (name, scales) -> {
          System.out.println(name + ", " + count + " checks, seeds from " + first);
          tally(scales, first, count)
              .forEach(
                  (key, hits) -> {
                    System.out.printf(
                        "  %-24s %4d of %4d  %5.1f %%   mean error %.4f, mean half width %.4f%n",
                        key,
                        hits.covered,
                        hits.all,
                        100.0 * hits.covered / hits.all,
                        hits.errors / hits.all,
                        hits.halfWidths / hits.all);
                    covered.merge(key, hits.covered, Integer::sum);
                    all.merge(key, hits.all, Integer::sum);
                  });
        });
    System.out.println("all families");
    covered.forEach(
        (key, hit) ->
            System.out.printf(
                "  %-24s %4d of %4d  %5.1f %%%n",
                key, hit, all.get(key), 100.0 * hit / all.getOrDefault(key, 1)));
  }
}
