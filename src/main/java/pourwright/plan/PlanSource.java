package pourwright.plan;

import java.util.Optional;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.api.lowlevel.Compose;
import org.snakeyaml.engine.v2.api.lowlevel.Parse;
import org.snakeyaml.engine.v2.events.AliasEvent;
import org.snakeyaml.engine.v2.events.CollectionEndEvent;
import org.snakeyaml.engine.v2.events.CollectionStartEvent;
import org.snakeyaml.engine.v2.events.DocumentStartEvent;
import org.snakeyaml.engine.v2.events.Event;
import org.snakeyaml.engine.v2.events.NodeEvent;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.ReaderException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;
import org.snakeyaml.engine.v2.nodes.Node;

/**
 * The text of a plan file as YAML nodes with their places.
 *
 * <p>A plan is a short list, so everything YAML has for building more out of less is refused before
 * a single node is made: references, deep nesting, several documents, long files. What is left can
 * neither loop nor blow up.
 */
public final class PlanSource {
  static final int CHARACTERS_MAX = 65_536;
  private static final int DEPTH_MAX = 8;

  private static final LoadSettings SETTINGS =
      LoadSettings.builder()
          .setUseMarks(true)
          .setAllowDuplicateKeys(true)
          .setAllowNonScalarKeys(true)
          .build();

  private PlanSource() {}

  /** The one document of {@code text}; empty when there is none, and then the problem is noted. */
  public static Optional<Node> findDocument(String text, Problems problems) {
    if (text.length() > CHARACTERS_MAX) {
      problems.errorAtTop(
          "the file has " + text.length() + " characters",
          "a plan needs a few hundred and may have " + CHARACTERS_MAX);
      return Optional.empty();
    }
    String plain = text.startsWith("\uFEFF") ? text.substring(1) : text;
    try {
      if (!isHarmless(plain, problems)) {
        return Optional.empty();
      }
      Optional<Node> document = new Compose(SETTINGS).composeString(plain);
      if (document.isEmpty()) {
        problems.errorAtTop("the file is empty", "a plan begins with 'format: 1'");
      }
      return document;
    } catch (MarkedYamlEngineException e) {
      problems.errorAt(
          e.getProblemMark().or(e::getContextMark).orElseThrow(),
          "not readable as YAML: " + e.getProblem(),
          "look at indents, colons, brackets and quotes here (blanks only, no tabs)");
    } catch (ReaderException e) {
      problems.errorAtTop(
          "the file holds characters that are no text", "save the plan as plain text in UTF-8");
    } catch (YamlEngineException e) {
      problems.errorAtTop(
          "not readable as YAML: " + e.getMessage(), "a plan begins with 'format: 1'");
    }
    return Optional.empty();
  }

  private static boolean isHarmless(String text, Problems problems) {
    int depth = 0;
    int documents = 0;
    for (Event event : new Parse(SETTINGS).parseString(text)) {
      if (event instanceof CollectionStartEvent) {
        depth++;
      } else if (event instanceof CollectionEndEvent) {
        depth--;
      } else if (event instanceof DocumentStartEvent) {
        documents++;
      }
      String wrong = "";
      String right = "";
      if (event instanceof AliasEvent
          || (event instanceof NodeEvent node && node.getAnchor().isPresent())) {
        wrong = "references (& and *) are not allowed";
        right = "write the value out";
      } else if (depth > DEPTH_MAX) {
        wrong = "brackets or indents are nested deeper than " + DEPTH_MAX;
        right = "a plan needs four levels";
      } else if (documents > 1) {
        wrong = "a second document begins here";
        right = "keep one plan per file";
      }
      if (!wrong.isEmpty()) {
        problems.errorAt(event.getStartMark().orElseThrow(), wrong, right);
        return false;
      }
    }
    return true;
  }
}
