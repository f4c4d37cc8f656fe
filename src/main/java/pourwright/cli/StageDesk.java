package pourwright.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import pourwright.card.StageCard;
import pourwright.session.Audience;
import pourwright.session.LaneView;
import pourwright.session.RehearsalView;
import pourwright.stage.Outcome;
import pourwright.units.SessionTime;
import pourwright.web.Answer;
import pourwright.web.Desk;
import pourwright.web.Question;

/**
 * Answers the stage page: the timetable, its card, and the clock of a mock run. With scales the
 * first water starts the clock, at the time at which that brewer's first pour is planned, and what
 * the scales say leads it from then on.
 */
final class StageDesk implements Desk, Audience {
  private static final String HERE = "/api/v1/stage";
  private static final JsonMapper MAPPER = new JsonMapper();

  private final Staged staged;
  private final StageClock clock;
  private final boolean isLed;
  private final String timetable;
  private volatile pourwright.session.@Nullable Outcome outcome;

  /** A desk whose clock is started by hand. */
  StageDesk(Staged staged, StageClock clock) {
    this(staged, clock, false);
  }

  /**
   * @param isLed whether scales lead the clock; it takes no orders then
   */
  StageDesk(Staged staged, StageClock clock, boolean isLed) {
    this.staged = staged;
    this.clock = clock;
    this.isLed = isLed;
    this.timetable = StageJson.of(staged).toString();
  }

  @Override
  public Optional<Answer> answer(Question question) {
    return switch (question.path()) {
      case HERE -> question.isRead() ? Optional.of(Answer.json(timetable)) : Optional.empty();
      case HERE + "/clock" ->
          Optional.of(question.isRead() ? Answer.json(clockJson()) : told(question.body()));
      case HERE + "/card.pdf" ->
          question.isRead()
              ? Optional.of(card(question.findParameter("paper").orElse("a5")))
              : Optional.empty();
      default -> Optional.empty();
    };
  }

  private Answer card(String paper) {
    if (!(staged.outcome() instanceof Outcome.Planned planned)) {
      return Answer.no(409, "There is no timetable to print.");
    }
    if (!paper.equals("a5") && !paper.equals("a4")) {
      return Answer.no(400, "The paper is a5 or a4.");
    }
    StageCard.Size size = StageCard.Size.valueOf(paper.toUpperCase(Locale.ROOT));
    return Answer.file(
        "application/pdf",
        "stage-card-" + paper + ".pdf",
        StageCard.pdf(staged.file(), planned.timetable(), size));
  }

  private Answer told(String body) {
    String word;
    try {
      JsonNode node = MAPPER.readTree(body);
      word = node == null ? "" : node.path("do").asText("");
    } catch (JsonProcessingException broken) {
      return Answer.no(400, "That is not JSON.");
    }
    if (isLed) {
      return Answer.no(409, "The scales lead this clock: the first water starts it.");
    }
    switch (word) {
      case "start" -> clock.start();
      case "stop" -> clock.stop();
      case "reset" -> clock.reset();
      default -> {
        return Answer.no(400, "The clock can be told to start, stop or reset.");
      }
    }
    return Answer.json(clockJson());
  }

  private String clockJson() {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("running", clock.isRunning());
    clock.seconds().ifPresent(seconds -> node.put("at_s", seconds));
    node.put("speed", clock.speed());
    node.put("led", isLed);
    return node.toString();
  }

  @Override
  public void see(RehearsalView view) {
    for (LaneView lane : view.lanes()) {
      if (lane.firstWater().isPresent() && lane.firstWater().equals(view.firstWater())) {
        SessionTime water = lane.firstWater().get();
        if (staged.outcome() instanceof Outcome.Planned planned) {
          int first = planned.timetable().firstPourOf(lane.number() - 1);
          clock.lead(first + view.at().secondsSince(water));
        }
        return;
      }
    }
  }

  @Override
  public void conclude(pourwright.session.Outcome result) {
    outcome = result;
  }

  /** How the pours of a finished run lay on the stage clock; empty without timetable or run. */
  Optional<StageTiming> timing() {
    pourwright.session.Outcome run = outcome;
    return run != null && staged.outcome() instanceof Outcome.Planned planned
        ? Optional.of(StageTiming.of(planned.timetable(), run))
        : Optional.empty();
  }
}
