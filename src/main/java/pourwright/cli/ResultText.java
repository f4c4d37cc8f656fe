package pourwright.cli;

import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import pourwright.compare.Comparison;
import pourwright.compare.Comparison.JudgedPour;
import pourwright.detect.Disturbance;
import pourwright.detect.Findings;

/** What was found in a run, as a person reads it. */
final class ResultText {
  private final StringBuilder text = new StringBuilder();

  private ResultText() {}

  static String of(Findings findings, Optional<Comparison> comparison) {
    ResultText result = new ResultText();
    result.pours(findings);
    comparison.ifPresent(result::comparison);
    result.rest(findings);
    return result.text.toString();
  }

  private void line(String pattern, Object... values) {
    text.append(String.format(Locale.ROOT, pattern, values).stripTrailing()).append('\n');
  }

  private void pours(Findings findings) {
    if (findings.pours().isEmpty()) {
      line("No pour found (rig %s).", findings.rig().word());
      return;
    }
    Map<Integer, Findings.Drawdown> drawdowns = new TreeMap<>();
    findings.drawdowns().forEach(drawdown -> drawdowns.put(drawdown.afterPour(), drawdown));
    line("pour     start       end    poured        flow   drained");
    for (Findings.Pour pour : findings.pours()) {
      line(
          "%4d  %8s  %8s  %8s  %10s   %s%s",
          pour.index(),
          Words.seconds(pour.start()),
          Words.seconds(pour.end()),
          Words.grams(pour.poured()),
          Words.flow(pour.meanFlow()),
          Optional.ofNullable(drawdowns.get(pour.index())).map(ResultText::drained).orElse("-"),
          pour.acrossGap() ? "   (readings were missing)" : "");
    }
  }

  private static String drained(Findings.Drawdown drawdown) {
    String at = Words.seconds(drawdown.end());
    return switch (drawdown.basis()) {
      case MEASURED -> at;
      case MODELLED -> "about " + at;
      case BOUNDED -> "by " + at;
    };
  }

  private void comparison(Comparison comparison) {
    line("");
    line("plan  made      mass     start        flow   verdict");
    for (JudgedPour pour : comparison.pours()) {
      Optional<Comparison.Placing> placing = pour.placing();
      line(
          "%4s  %4s  %8s  %8s  %10s   %s%s",
          pour.planned().isPresent() ? String.valueOf(pour.planned().getAsInt()) : "-",
          pour.made().isEmpty() ? "-" : made(pour),
          Words.signedGrams(pour.massError()),
          placing.map(found -> Words.signedSeconds(found.startError())).orElse("-"),
          placing.map(found -> Words.signedFlow(found.flowError())).orElse("-"),
          pour.verdict().word(),
          pour.reasons().isEmpty() ? "" : ": " + String.join(", ", pour.reasons()));
    }
    line("");
    line(
        "Deviation index %.2f (0: as planned; 1: everywhere just at the tolerance).",
        comparison.deviationIndex());
  }

  private static String made(JudgedPour pour) {
    int first = pour.made().get(0);
    int last = pour.made().get(pour.made().size() - 1);
    return first == last ? String.valueOf(first) : first + "-" + last;
  }

  private void rest(Findings findings) {
    if (findings.lift().isPresent() || !findings.disturbances().isEmpty()) {
      line("");
    }
    findings.lift().ifPresent(this::lift);
    for (Disturbance disturbance : findings.disturbances()) {
      line(
          "Disturbed %s to %s: %s.",
          Words.seconds(disturbance.start()),
          Words.seconds(disturbance.end()),
          kind(disturbance.kind()));
    }
    for (Findings.Gap gap : findings.gaps()) {
      line(
          "No readings %s to %s (%s).",
          Words.seconds(gap.start()), Words.seconds(gap.end()), gap.place().word());
    }
    findings.warnings().forEach(warning -> line("Note: %s", warning));
  }

  private void lift(Findings.Lift lift) {
    line(
        "Lifted at %s, %s taken off%s.",
        Words.seconds(lift.time()),
        Words.grams(lift.removed()),
        lift.beverage()
            .map(beverage -> ", beverage " + Words.grams(beverage))
            .orElse("; the beverage is not known (give --dripper-g, or tare with the dripper on)"));
  }

  private static String kind(Disturbance.Kind kind) {
    return switch (kind) {
      case BUMP -> "a knock";
      case LEAN -> "something rested on the rig";
      case SWIRL -> "the rig was moved about";
      case OBJECT_PLACED -> "something was put down";
      case OBJECT_REMOVED -> "something was taken away";
      case VESSEL_LIFTED -> "the vessel was lifted and put back";
    };
  }
}
