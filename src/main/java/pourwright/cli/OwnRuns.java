package pourwright.cli;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.compare.Comparison.Kind;
import pourwright.forecast.Experience;
import pourwright.forecast.Forecast;
import pourwright.forecast.Kit;
import pourwright.forecast.PastRun;
import pourwright.journal.JournalFile;
import pourwright.journal.RunFilter;
import pourwright.review.PlanReview;
import pourwright.review.Run;
import pourwright.stage.Spreads;
import pourwright.stage.StageFile;
import pourwright.stage.Station;

/**
 * What kept runs say of a routine: how the hand scatters, and how long the beds drain. The brewer's
 * own runs count; simulated ones only in a journal that has no others of these plans.
 */
final class OwnRuns {
  /** A spread of fewer runs says nothing; own choice. */
  private static final int LEAST_RUNS = 3;

  private final JournalFile journal;

  OwnRuns(JournalFile journal) {
    this.journal = journal;
  }

  /**
   * Something learned.
   *
   * @param from where it comes from, in words
   */
  record Learned<T>(T value, String from) {}

  /** Mean spread of mass and start over the pours of the plans that have been rehearsed. */
  Optional<Learned<Spreads>> spreads(StageFile file) throws IOException {
    for (boolean areSimulated : new boolean[] {false, true}) {
      List<Double> grams = new ArrayList<>();
      List<Double> starts = new ArrayList<>();
      int runs = 0;
      for (String title : titles(file)) {
        for (PlanReview review :
            Reviewed.of(journal, RunFilter.all().finished().titled(title)).reviews()) {
          boolean isSimulated = review.runs().stream().allMatch(Run::isSimulated);
          if (review.runs().size() >= LEAST_RUNS && isSimulated == areSimulated) {
            collect(review, Kind.MASS, grams);
            collect(review, Kind.START, starts);
            runs += review.runs().size();
          }
        }
      }
      OptionalDouble gram = grams.stream().mapToDouble(Double::doubleValue).average();
      if (gram.isPresent()) {
        OptionalDouble start = starts.stream().mapToDouble(Double::doubleValue).average();
        Spreads told = file.spreads();
        Spreads own =
            new Spreads(
                gram.getAsDouble(),
                start.orElse(told.startSeconds()),
                told.flowPercent(),
                told.drainPercent(),
                told.chorePercent());
        return Optional.of(new Learned<>(own, words(runs, areSimulated)));
      }
    }
    return Optional.empty();
  }

  private static void collect(PlanReview review, Kind kind, List<Double> spreads) {
    review.pours().stream()
        .flatMap(pour -> pour.habits().stream())
        .filter(habit -> habit.kind() == kind)
        .forEach(habit -> habit.errors().spread().ifPresent(spreads::add));
  }

  private static List<String> titles(StageFile file) {
    return file.routine().stations().stream().map(s -> s.plan().title()).distinct().toList();
  }

  private static String words(int runs, boolean areSimulated) {
    return runs + (areSimulated ? " simulated runs" : " runs of your own");
  }

  /**
   * The routine with drain times from the bed model fitted to kept runs; a brewer whose runs do not
   * show any, and a pour that the model sees overtaken by the next one, stay as they were.
   *
   * @param kit the dripper; another form with the same runs drains alike
   */
  Learned<StageFile> drains(StageFile file, Kit kit) throws IOException {
    List<Station> stations = new ArrayList<>();
    List<String> from = new ArrayList<>();
    for (Station station : file.routine().stations()) {
      Optional<Learned<Station>> learned = drains(station, kit);
      stations.add(learned.map(Learned::value).orElse(station));
      from.add(station.name() + " from " + learned.map(Learned::from).orElse("the routine"));
    }
    return new Learned<>(
        file.withRoutine(file.routine().withStations(stations)), String.join(", ", from));
  }

  private Optional<Learned<Station>> drains(Station station, Kit kit) throws IOException {
    for (boolean areSimulated : new boolean[] {false, true}) {
      List<PastRun> runs = PastRuns.of(journal, station.plan().title(), areSimulated);
      Experience experience = Experience.of(kit.dripper(), station.plan().dose(), runs);
      if (experience.bed().isPresent()) {
        List<Integer> seconds = new ArrayList<>();
        for (Forecast.Pour pour : Forecast.of(station.plan(), kit, experience).pours()) {
          int told = station.drainSeconds().get(pour.index() - 1);
          seconds.add(
              pour.drained()
                  .map(span -> span.expected().secondsSince(pour.poured().end()))
                  .map(drain -> Math.max(1, (int) Math.round(drain)))
                  .orElse(told));
        }
        return Optional.of(
            new Learned<>(
                new Station(station.name(), station.plan(), seconds),
                words(experience.runs(), areSimulated)));
      }
    }
    return Optional.empty();
  }
}
