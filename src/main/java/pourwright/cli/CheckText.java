package pourwright.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.check.Change;
import pourwright.check.CheckRecord;
import pourwright.check.Figure;
import pourwright.check.Verdict;

/** A check in plain text, as wide as a terminal. */
final class CheckText {
  private static final int WIDTH = 88;

  private final StringBuilder out = new StringBuilder();

  private CheckText() {}

  static String of(CheckRecord check, Optional<Verdict> verdict, List<Change> changes) {
    CheckText text = new CheckText();
    text.figures(check);
    verdict.ifPresent(text::verdict);
    text.changes(changes);
    text.notes(check);
    return text.out.toString();
  }

  /** A check in a line for a list of them. */
  static String line(CheckRecord check) {
    return String.format(
        Locale.ROOT,
        "%s  %-5s  noise %s  repeatability %s  lag %s%s",
        check.at().toString().substring(0, 16).replace('T', ' '),
        check.length(),
        brief(check, "noise_g"),
        brief(check, "repeatability_g"),
        brief(check, "lag_s"),
        check.isWhole() ? "" : "  (ended early)");
  }

  private static String brief(CheckRecord check, String key) {
    return check.findFigure(key).map(f -> f.valueText() + " " + f.unit()).orElse("-");
  }

  private void line(String format, Object... values) {
    out.append(String.format(Locale.ROOT, format, values).stripTrailing()).append('\n');
  }

  private void figures(CheckRecord check) {
    line("%s", check.scale());
    line("%-36s %10s   %-20s %s", "", "value", "95 % interval", "");
    for (Figure figure : check.figures()) {
      line(
          "%-36s %10s %-5s %-20s %s",
          figure.name(), figure.valueText(), figure.unit(), figure.intervalText(), figure.note());
    }
  }

  private void verdict(Verdict verdict) {
    line("");
    line(
        "For %s: %s", verdict.demands().title(), verdict.overall().word().toUpperCase(Locale.ROOT));
    for (Verdict.Item item : verdict.items()) {
      wrapped(
          String.format(Locale.ROOT, "  %-10s  ", item.grade().word()),
          item.name() + ": " + item.finding());
      if (!item.advice().isEmpty()) {
        wrapped("              -> ", item.advice());
      }
    }
    if (!verdict.overshoots().isEmpty()) {
      line("  Poured too much when stopping by the figure:");
      for (Verdict.Overshoot one : verdict.overshoots()) {
        line(
            "    at %.1f g/s  %.1f g  (known to ±%.1f g)",
            one.flow(), one.byLagGrams(), one.leftGrams());
      }
    }
    if (!verdict.yardstick().isEmpty()) {
      wrapped("  ", verdict.yardstick());
    }
  }

  private void changes(List<Change> changes) {
    List<Change> real = changes.stream().filter(Change::isReal).toList();
    if (!changes.isEmpty()) {
      line("");
      line(
          real.isEmpty()
              ? "Nothing changed since the check before beyond what both can tell."
              : "Changed since the check before:");
    }
    for (Change change : real) {
      line(
          "  %-36s %s -> %s %s",
          change.now().name(),
          change.before().valueText(),
          change.now().valueText(),
          change.now().unit());
    }
  }

  private void notes(CheckRecord check) {
    List<String> notes = new ArrayList<>(check.notes());
    if (check.losses() > 0) {
      notes.add("The scale was lost " + check.losses() + " times during the check.");
    }
    if (!notes.isEmpty()) {
      line("");
    }
    notes.forEach(note -> wrapped("Note: ", note));
    line("");
    line("A user check, not a legal verification.");
  }

  /** Text broken between words; lines after the first are indented like it. */
  private void wrapped(String indent, String text) {
    StringBuilder row = new StringBuilder(indent);
    for (String word : text.split(" ", -1)) {
      if (row.length() + word.length() > WIDTH && row.length() > indent.length()) {
        line("%s", row);
        row = new StringBuilder(" ".repeat(indent.length()));
      }
      row.append(word).append(' ');
    }
    line("%s", row);
  }
}
