package pourwright.cli;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.device.ScaleAddress;
import pourwright.rig.Rig;
import pourwright.roving.Turn;
import pourwright.simulate.Moments;

/**
 * Who rehearses what on which scales.
 *
 * @param lanes one per brewer
 * @param turns in which order one scale is moved from brewer to brewer; empty: each has their own
 */
record Ensemble(List<Part> lanes, List<Turn> turns) {
  Ensemble {
    lanes = List.copyOf(lanes);
    turns = List.copyOf(turns);
  }

  /** Everybody on scales of their own. */
  Ensemble(List<Part> lanes) {
    this(lanes, List.of());
  }

  /** Everybody on one scale, which is moved between. */
  static Ensemble ofMoved(
      List<PlanFile> plans,
      String text,
      ScaleAddress scale,
      List<String> brewers,
      List<Turn> turns) {
    List<Part> parts = new ArrayList<>();
    for (PlanFile plan : plans) {
      parts.add(
          new Part(
              brewerName(brewers, parts.size()),
              Rig.WHOLE,
              Optional.of(plan),
              List.of(text),
              List.of(scale)));
    }
    return new Ensemble(parts, turns);
  }

  boolean isMoved() {
    return !turns.isEmpty();
  }

  /**
   * One brewer.
   *
   * @param texts the scales as they were written, in the order of the rig's places
   * @param scales the same, understood
   * @param moments when a simulated hand comes to this rig; empty: as the plan says
   */
  record Part(
      String brewer,
      Rig rig,
      Optional<PlanFile> plan,
      List<String> texts,
      List<ScaleAddress> scales,
      Optional<Moments> moments) {
    Part {
      texts = List.copyOf(texts);
      scales = List.copyOf(scales);
    }

    Part(
        String brewer,
        Rig rig,
        Optional<PlanFile> plan,
        List<String> texts,
        List<ScaleAddress> scales) {
      this(brewer, rig, plan, texts, scales, Optional.empty());
    }

    Part at(Moments hands) {
      return new Part(brewer, rig, plan, texts, scales, Optional.of(hands));
    }
  }

  /**
   * The same where one simulated pair of hands serves all rigs.
   *
   * @param hands when they come to each rig, at least one for each brewer
   */
  Ensemble withHands(List<Moments> hands) {
    List<Part> served = new ArrayList<>();
    for (Part part : lanes) {
      served.add(part.at(hands.get(served.size())));
    }
    return new Ensemble(served, turns);
  }

  /**
   * Deals scales out to brewers: each takes as many as the rig has places, in order; a simulation
   * or a trace is enough for a whole rig.
   *
   * @param plans none, one for all, or one for each
   * @throws IllegalArgumentException when they do not come out even; the message is one sentence
   */
  static Ensemble of(
      List<PlanFile> plans,
      Optional<Rig> named,
      List<String> texts,
      List<ScaleAddress> scales,
      List<String> brewers) {
    List<Part> parts = new ArrayList<>();
    int taken = 0;
    while (taken < scales.size()) {
      int number = parts.size();
      Optional<PlanFile> plan =
          plans.size() > 1 && number < plans.size()
              ? Optional.of(plans.get(number))
              : plans.stream().findFirst();
      Rig rig = named.or(() -> plan.map(file -> file.plan().rig())).orElse(Rig.WHOLE);
      int wanted = rig.places().size();
      if (showsWholeRig(scales.get(taken))) {
        parts.add(
            new Part(
                brewerName(brewers, number),
                rig,
                plan,
                Collections.nCopies(wanted, texts.get(taken)),
                Collections.nCopies(wanted, scales.get(taken))));
        taken++;
        continue;
      }
      if (scales.size() - taken < wanted) {
        throw new IllegalArgumentException(
            "a split rig needs two --scale: first the one under everything, then the one under "
                + "the server");
      }
      parts.add(
          new Part(
              brewerName(brewers, number),
              rig,
              plan,
              texts.subList(taken, taken + wanted),
              scales.subList(taken, taken + wanted)));
      taken += wanted;
    }
    if (plans.size() > 1 && plans.size() != parts.size()) {
      throw new IllegalArgumentException(
          plans.size()
              + " plans do not fit "
              + parts.size()
              + (parts.size() == 1 ? " brewer" : " brewers")
              + "; give one plan for all, or one for each");
    }
    return new Ensemble(parts);
  }

  private static String brewerName(List<String> brewers, int number) {
    return number < brewers.size() ? brewers.get(number) : "brewer " + (number + 1);
  }

  /** A simulation and a trace hold every scale of a rig under one name. */
  private static boolean showsWholeRig(ScaleAddress scale) {
    return scale instanceof ScaleAddress.Sim
        || (scale instanceof ScaleAddress.Replay replay
            && replay.file().toLowerCase(Locale.ROOT).endsWith(".csv"));
  }
}
