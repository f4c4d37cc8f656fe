package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import pourwright.detect.Findings;
import pourwright.journal.JournalFile;
import pourwright.journal.Judgement;
import pourwright.journal.KeptRun;
import pourwright.journal.RunEntry;
import pourwright.journal.StrengthReading;
import pourwright.journal.Tasting;
import pourwright.record.ResultJson;
import pourwright.units.Mass;

/** Shows one kept run. */
@Command(
    name = "show",
    versionProvider = Main.Version.class,
    mixinStandardHelpOptions = true,
    usageHelpAutoWidth = true,
    header = "Show one kept run: its pours, its verdicts and what was added to it.")
final class RunsShowCommand extends JournalCommand {
  @Parameters(paramLabel = "RUN", description = "Number of the run.")
  private long run;

  @Option(
      names = "--format",
      paramLabel = "FORMAT",
      defaultValue = "text",
      description =
          "text, or json: what is known of the run, and under result what analyse prints.")
  private Format format = Format.TEXT;

  @Override
  void act(JournalFile open) throws IOException, Failure {
    KeptRun kept =
        open.findRun(run)
            .orElseThrow(
                () ->
                    new Failure(
                        "there is no run "
                            + run
                            + " in the journal; `pourwright runs list` shows those there are"));
    if (format == Format.JSON) {
      printJson(kept);
    } else {
      print(kept);
    }
  }

  private void print(KeptRun kept) {
    RunEntry entry = kept.entry();
    out()
        .println(
            "Run "
                + entry.id()
                + ", "
                + OpenJournal.local(entry.startedAt())
                + ": "
                + entry.title().orElse("no plan")
                + " by "
                + entry.brewer()
                + remarks(entry));
    out()
        .println(
            "Rig "
                + entry.rig().word()
                + ", feedback "
                + entry.feedback().word()
                + ", "
                + Words.seconds(entry.length())
                + ", "
                + ended(entry.state())
                + ".");
    kept.scales()
        .forEach(
            scale ->
                out()
                    .println(
                        "Scale under the "
                            + (scale.stand().place().word().equals("server")
                                ? "server"
                                : "whole rig")
                            + ": "
                            + scale.address()
                            + ", read as "
                            + scale.profile()
                            + "."));
    out().println();
    Optional<Judgement> judgement = kept.judgement();
    if (judgement.isPresent()) {
      out().print(ResultText.of(judgement.get().findings(), judgement.get().comparison()));
    } else {
      out().println("Not judged: no weights were kept, or it is being recorded now.");
    }
    printAdded(kept);
  }

  private static String remarks(RunEntry entry) {
    return (entry.isSimulated() ? ", simulated" : "")
        + (entry.isVoid() ? ", void" : "")
        + (entry.isDeleted() ? ", deleted" : "");
  }

  private static String ended(RunEntry.State state) {
    return switch (state) {
      case RECORDING -> "being recorded";
      case CUT_SHORT -> "cut short";
      case LIFTED -> "ended by the lift";
      case STOPPED -> "stopped by the brewer";
      case SOURCE_ENDED -> "ended with its source";
      case IDLE -> "ended as nothing happened any more";
    };
  }

  private void printAdded(KeptRun kept) {
    if (!kept.estimates().isEmpty()) {
      out().println();
      List<Findings.Pour> pours =
          kept.judgement().map(found -> found.findings().pours()).orElse(List.of());
      for (Map.Entry<Integer, Mass> guess : new TreeMap<>(kept.estimates()).entrySet()) {
        String truth =
            guess.getKey() >= 1 && guess.getKey() <= pours.size()
                ? ", " + Words.grams(pours.get(guess.getKey() - 1).poured()) + " were poured"
                : "";
        out()
            .println(
                "Own estimate of pour "
                    + guess.getKey()
                    + ": "
                    + Words.grams(guess.getValue())
                    + truth
                    + ".");
      }
    }
    if (!kept.strengths().isEmpty()) {
      out().println();
      for (StrengthReading strength : kept.strengths()) {
        String sure =
            strength.uncertaintyPercent().isPresent()
                ? String.format(Locale.ROOT, " ± %.3f", strength.uncertaintyPercent().getAsDouble())
                : "";
        out()
            .println(
                String.format(
                    Locale.ROOT,
                    "Strength %.2f%s %%%s.",
                    strength.percent(),
                    sure,
                    strength.instrument().isEmpty() ? "" : " (" + strength.instrument() + ")"));
      }
    }
    for (Tasting tasting : kept.tastings()) {
      out().println();
      out()
          .println(
              "Tasted"
                  + (tasting.taster().isEmpty() ? "" : " by " + tasting.taster())
                  + ": "
                  + new TreeMap<>(tasting.scores())
                      .entrySet().stream()
                          .map(
                              score ->
                                  score.getKey().word()
                                      + String.format(Locale.ROOT, " %.2f", score.getValue()))
                          .collect(Collectors.joining(", "))
                  + "."
                  + (tasting.note().isEmpty() ? "" : " " + tasting.note()));
    }
    if (!kept.entry().note().isBlank()) {
      out().println();
      out().println("Note: " + kept.entry().note());
    }
  }

  private void printJson(KeptRun kept) throws IOException {
    try (JsonGenerator json = Json.write(out())) {
      json.writeStartObject();
      RunHead.writeMembers(json, kept.entry());
      if (kept.judgement().isPresent()) {
        Judgement found = kept.judgement().get();
        json.writeNumberField("detector", found.detector());
        json.writeFieldName("result");
        json.writeStartObject();
        ResultJson.writeMembers(json, found.findings(), found.comparison(), List.of());
        json.writeEndObject();
      }
      json.writeEndObject();
      json.writeRaw('\n');
    }
  }
}
