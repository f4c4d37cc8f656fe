package pourwright.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.time.ZoneId;
import java.util.Locale;
import java.util.Optional;
import java.util.function.LongSupplier;
import org.jspecify.annotations.Nullable;
import pourwright.check.CheckRecord;
import pourwright.check.CheckView;
import pourwright.check.Notice;
import pourwright.history.CheckJson;
import pourwright.history.ScaleHistory;
import pourwright.web.Answer;
import pourwright.web.Desk;
import pourwright.web.Question;

/** Answers the page of checks: the one under way, what came of it, and what is kept. */
final class CheckDesk implements Desk {
  private static final String HERE = "/api/v1/check";
  private static final JsonFactory JSON = new JsonFactory();
  private static final int MOST_SAID = 12;
  private static final long WATCHED_NANOS = 3_000_000_000L;

  private final ScaleHistory history;
  private final ZoneId zone;
  private final LongSupplier nanoClock;
  private volatile @Nullable CheckView view;
  private volatile @Nullable CheckOutcome outcome;
  private volatile long askedNanos;
  private volatile boolean hasBeenAsked;

  CheckDesk(ScaleHistory history, ZoneId zone, LongSupplier nanoClock) {
    this.history = history;
    this.zone = zone;
    this.nanoClock = nanoClock;
  }

  /** The check under way is here now. */
  void see(CheckView newest) {
    view = newest;
  }

  /** The check is over. */
  void conclude(CheckOutcome found) {
    outcome = found;
  }

  /** Whether a page has asked within the last seconds. */
  boolean isWatched() {
    return hasBeenAsked && nanoClock.getAsLong() - askedNanos < WATCHED_NANOS;
  }

  @Override
  public Optional<Answer> answer(Question question) {
    if (!question.isRead() || !question.path().startsWith(HERE)) {
      return Optional.empty();
    }
    try {
      return switch (question.path()) {
        case HERE -> Optional.of(Answer.json(now()));
        case HERE + "/kept" -> Optional.of(Answer.json(kept()));
        case HERE + "/pdf" -> Optional.of(pdf());
        default -> Optional.empty();
      };
    } catch (IOException unwritable) {
      return Optional.of(Answer.no(500, "The check could not be told."));
    }
  }

  private Answer pdf() {
    CheckOutcome found = outcome;
    return found == null
        ? Answer.no(404, "No check has been made yet.")
        : Answer.file("application/pdf", "scale-check.pdf", found.pdf(zone));
  }

  private String now() throws IOException {
    askedNanos = nanoClock.getAsLong();
    hasBeenAsked = true;
    StringWriter out = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(out)) {
      json.writeStartObject();
      CheckView seen = view;
      if (seen != null) {
        json.writeObjectFieldStart("view");
        write(json, seen);
        json.writeEndObject();
      }
      CheckOutcome found = outcome;
      if (found != null) {
        json.writeObjectFieldStart("outcome");
        found.writeMembers(json);
        if (found.chart().isPresent()) {
          json.writeStringField("chart", found.chart().get());
        }
        json.writeEndObject();
      }
      json.writeEndObject();
    }
    return out.toString();
  }

  private static void write(JsonGenerator json, CheckView seen) throws IOException {
    json.writeStringField("stage", seen.stage().name().toLowerCase(Locale.ROOT));
    json.writeStringField("part", seen.part().title());
    json.writeStringField("finds", seen.part().finds());
    json.writeNumberField("step", seen.step());
    json.writeNumberField("steps", seen.steps());
    json.writeStringField("words", seen.words());
    json.writeNumberField("shown_g", seen.shownGrams());
    json.writeNumberField("seconds_left", Math.ceil(seen.secondsLeft()));
    json.writeNumberField("beat", seen.beat());
    json.writeNumberField("to_beat_s", seen.secondsToBeat());
    json.writeArrayFieldStart("said");
    int first = Math.max(0, seen.said().size() - MOST_SAID);
    for (Notice notice : seen.said().subList(first, seen.said().size())) {
      json.writeStartObject();
      json.writeNumberField("at_s", notice.at().seconds());
      json.writeStringField("kind", notice.kind().name().toLowerCase(Locale.ROOT));
      json.writeStringField("text", notice.text());
      json.writeEndObject();
    }
    json.writeEndArray();
  }

  private String kept() throws IOException {
    StringWriter out = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(out)) {
      json.writeStartObject();
      json.writeArrayFieldStart("scales");
      for (CheckRecord check : history.listLast()) {
        json.writeStartObject();
        CheckJson.writeMembers(json, check);
        json.writeEndObject();
      }
      json.writeEndArray();
      json.writeEndObject();
    }
    return out.toString();
  }
}
