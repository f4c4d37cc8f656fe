package pourwright.review;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import pourwright.coach.Feedback;
import pourwright.statistic.Sample;
import pourwright.statistic.Welch;

/**
 * What the kind of feedback does, and what stays without it.
 *
 * @param kinds deviation index by kind of feedback, only those that were used
 * @param retention of each blind run, its deviation index less that of the guided runs next to it,
 *     so that practice between them is not taken for guidance; above zero the guidance carries what
 *     the hand does not hold yet
 * @param guesses own estimate less truth (g), of every pour that was guessed
 */
public record FeedbackReview(List<Kind> kinds, Series retention, Series guesses) {

  public FeedbackReview {
    kinds = List.copyOf(kinds);
  }

  /** Runs under one kind of feedback. */
  public record Kind(Feedback feedback, Series index) {}

  static FeedbackReview of(List<Run> runs) {
    List<Kind> kinds = new ArrayList<>();
    for (Feedback feedback : Feedback.values()) {
      Series index = index(runs.stream().filter(run -> run.feedback() == feedback).toList());
      if (!index.isEmpty()) {
        kinds.add(new Kind(feedback, index));
      }
    }
    return new FeedbackReview(kinds, retention(runs), guesses(runs));
  }

  /** Blind runs against their guided neighbours; runs in the order they were made. */
  private static Series retention(List<Run> runs) {
    List<Series.Point> differences = new ArrayList<>();
    for (int at = 0; at < runs.size(); at++) {
      if (runs.get(at).feedback() == Feedback.BLIND) {
        List<Run> beside = new ArrayList<>();
        findGuided(runs, at, -1).ifPresent(beside::add);
        findGuided(runs, at, 1).ifPresent(beside::add);
        OptionalDouble guided =
            beside.stream().mapToDouble(run -> run.comparison().deviationIndex()).average();
        if (guided.isPresent()) {
          Run blind = runs.get(at);
          differences.add(
              new Series.Point(
                  blind.id(), blind.comparison().deviationIndex() - guided.getAsDouble()));
        }
      }
    }
    return new Series(differences);
  }

  private static Optional<Run> findGuided(List<Run> runs, int from, int step) {
    for (int at = from + step; at >= 0 && at < runs.size(); at += step) {
      if (runs.get(at).feedback() != Feedback.BLIND) {
        return Optional.of(runs.get(at));
      }
    }
    return Optional.empty();
  }

  static Series index(List<Run> runs) {
    return new Series(
        runs.stream()
            .map(run -> new Series.Point(run.id(), run.comparison().deviationIndex()))
            .toList());
  }

  /** First less second; empty when either has fewer than two values or neither spreads. */
  static Optional<Welch> difference(Series first, Series second) {
    if (first.size() < 2
        || second.size() < 2
        || first.spread().orElse(0) + second.spread().orElse(0) == 0) {
      return Optional.empty();
    }
    return Optional.of(Welch.of(Sample.of(first.toArray()), Sample.of(second.toArray())));
  }

  private static Series guesses(List<Run> runs) {
    List<Series.Point> guesses = new ArrayList<>();
    for (Run run : runs) {
      for (int pour = 1; pour <= run.plan().pours().size(); pour++) {
        Optional<Double> error = guessError(run, pour);
        error.ifPresent(grams -> guesses.add(new Series.Point(run.id(), grams)));
      }
    }
    return new Series(guesses);
  }

  private static Optional<Double> guessError(Run run, int pour) {
    return Optional.ofNullable(run.estimates().get(pour))
        .flatMap(
            guess ->
                run.findPour(pour)
                    .map(
                        judged ->
                            guess
                                .minus(run.plan().pours().get(pour - 1).add())
                                .minus(judged.massError())
                                .grams()));
  }
}
