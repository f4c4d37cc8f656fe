package pourwright.cli;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import pourwright.chart.ErrorChart;
import pourwright.check.Appraisal;
import pourwright.check.Change;
import pourwright.check.CheckRecord;
import pourwright.check.Verdict;
import pourwright.history.CheckJson;
import pourwright.metrology.ScaleClass;
import pourwright.report.CheckSheet;
import pourwright.report.Paper;
import pourwright.units.Mass;

/**
 * What came of one check.
 *
 * @param changes since the check before; empty when it was the first
 * @param chart of the errors at each load; empty where no known weight was used
 */
record CheckOutcome(
    CheckRecord check, Verdict verdict, List<Change> changes, Optional<String> chart) {

  CheckOutcome {
    changes = List.copyOf(changes);
  }

  static Optional<String> chart(Appraisal appraisal) {
    double step = appraisal.display().stepGrams();
    if (appraisal.errors().isEmpty() || step <= 0) {
      return Optional.empty();
    }
    List<ErrorChart.Point> points =
        appraisal.errors().stream()
            .map(
                one ->
                    new ErrorChart.Point(
                        one.loadGrams(),
                        one.error().value(),
                        one.error().low(),
                        one.error().high(),
                        ScaleClass.III
                            .largestErrorInService(
                                Mass.ofGrams(one.loadGrams()), Mass.ofGrams(step))
                            .grams()))
            .toList();
    return Optional.of(ErrorChart.draw("shown less true weight at each load", points));
  }

  /** Writes all of it into an object that is already open, the drawing left out. */
  void writeMembers(JsonGenerator json) throws IOException {
    CheckJson.writeMembers(json, check);
    CheckJson.writeVerdict(json, verdict);
    CheckJson.writeChanges(json, changes);
  }

  String text() {
    return CheckText.of(check, Optional.of(verdict), changes);
  }

  /** On one page of paper. */
  byte[] pdf(ZoneId zone) {
    return Paper.pdf(CheckSheet.of(check, verdict, changes, chart, zone));
  }
}
