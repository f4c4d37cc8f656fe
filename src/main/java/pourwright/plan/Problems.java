package pourwright.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.snakeyaml.engine.v2.exceptions.Mark;
import org.snakeyaml.engine.v2.nodes.Node;
import pourwright.plan.PlanProblem.Severity;

/** Collects what is wrong with one file. */
public final class Problems {
  private final String file;
  private final List<PlanProblem> found = new ArrayList<>();

  public Problems(String file) {
    this.file = file;
  }

  public void error(Node where, String wrong, String right) {
    add(where, Severity.ERROR, wrong, right);
  }

  public void warn(Node where, String wrong, String right) {
    add(where, Severity.WARNING, wrong, right);
  }

  public void errorAt(Mark mark, String wrong, String right) {
    found.add(
        new PlanProblem(
            file, mark.getLine() + 1, mark.getColumn() + 1, Severity.ERROR, wrong, right));
  }

  public void errorAtTop(String wrong, String right) {
    found.add(new PlanProblem(file, 1, 1, Severity.ERROR, wrong, right));
  }

  public boolean hasErrors() {
    return found.stream().anyMatch(problem -> problem.severity() == Severity.ERROR);
  }

  /** In the order of the file. */
  public List<PlanProblem> list() {
    return found.stream()
        .sorted(Comparator.comparingInt(PlanProblem::line).thenComparingInt(PlanProblem::column))
        .toList();
  }

  private void add(Node where, Severity severity, String wrong, String right) {
    Mark mark = where.getStartMark().orElseThrow();
    found.add(
        new PlanProblem(file, mark.getLine() + 1, mark.getColumn() + 1, severity, wrong, right));
  }
}
