package pourwright.cli;

import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import pourwright.plan.Plan;
import pourwright.plan.PlanProblem;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;

/**
 * A plan as it stood in its file.
 *
 * @param name of the file
 * @param warnings what is legal but unusual in it
 */
record PlanFile(String name, String text, Plan plan, List<PlanProblem> warnings) {
  /** Far more than any plan; own choice. */
  private static final long MOST_BYTES = 1_000_000;

  PlanFile {
    warnings = List.copyOf(warnings);
  }

  /** Everything that a file holds. */
  static String textOf(Path file) throws Failure {
    try {
      if (Files.isDirectory(file)) {
        throw new Failure(file + ": is a folder; name a plan file in it");
      }
      if (Files.size(file) > MOST_BYTES) {
        throw new Failure(file + ": is too large for a plan (more than 1 MB)");
      }
      return Files.readString(file, StandardCharsets.UTF_8);
    } catch (NoSuchFileException missing) {
      throw new Failure(file + ": no such file", missing);
    } catch (AccessDeniedException denied) {
      throw new Failure(file + ": may not be read; check its permissions", denied);
    } catch (CharacterCodingException wrong) {
      throw new Failure(file + ": is not UTF-8 text; save the plan as UTF-8", wrong);
    } catch (IOException failed) {
      throw Failure.of(file.toString(), failed);
    }
  }

  /** Reads a plan that must be usable. */
  static PlanFile read(Path file) throws Failure {
    return of(textOf(file), file.toString());
  }

  static PlanFile of(String text, String name) throws Failure {
    PlanReading reading = PlanReader.read(text, name);
    if (reading instanceof PlanReading.Understood understood) {
      return new PlanFile(name, text, understood.plan(), understood.warnings());
    }
    List<PlanProblem> errors =
        ((PlanReading.Refused) reading)
            .problems().stream()
                .filter(problem -> problem.severity() == PlanProblem.Severity.ERROR)
                .toList();
    String more =
        errors.size() == 1
            ? ""
            : " (and " + (errors.size() - 1) + " more: pourwright plan check " + name + ")";
    throw new Failure(errors.get(0) + more);
  }
}
