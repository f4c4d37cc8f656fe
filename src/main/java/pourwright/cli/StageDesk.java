package pourwright.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import pourwright.card.StageCard;
import pourwright.cli.StageOptions.Staged;
import pourwright.report.Paper;
import pourwright.session.Audience;
import pourwright.session.LaneView;
import pourwright.session.RehearsalView;
import pourwright.stage.Chore;
import pourwright.stage.Outcome;
import pourwright.stage.Timetable;
import pourwright.units.SessionTime;
import pourwright.web.Answer;
import pourwright.web.Desk;
import pourwright.web.Question;

/**
 * Answers the stage page: the timetable, its card, and the clock of a mock run. With scales the
 * first water starts the clock, at the time at which that brewer's first pour is planned.
 */
final class StageDesk implements Desk, Audience {
  private static final String HERE = "/api/v1/stage";
  private static final JsonMapper MAPPER = new JsonMapper();

  private final Staged staged;
  private final StageClock clock;
  private final String timetable;

  StageDesk(Staged staged, StageClock clock) {
    this.staged = staged;
    this.clock = clock;
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
        Paper.pdf(StageCard.of(staged.file(), planned.timetable(), size)));
  }

  private Answer told(String body) {
    String word;
    try {
      JsonNode node = MAPPER.readTree(body);
      word = node == null ? "" : node.path("do").asText("");
    } catch (JsonProcessingException broken) {
      return Answer.no(400, "That is not JSON.");
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
    return node.toString();
  }

  @Override
  public void see(RehearsalView view) {
    if (clock.isRunning()) {
      return;
    }
    for (LaneView lane : view.lanes()) {
      Optional<SessionTime> water = lane.firstWater();
      if (water.isPresent()) {
        firstPour(lane.number() - 1)
            .ifPresent(planned -> clock.startAt(planned + view.at().secondsSince(water.get())));
        return;
      }
    }
  }

  private Optional<Integer> firstPour(int station) {
    List<Timetable.Slot> slots =
        staged.outcome() instanceof Outcome.Planned planned
            ? planned.timetable().slots()
            : List.of();
    return slots.stream()
        .filter(slot -> slot.job().chore() == Chore.POUR && slot.job().station() == station)
        .findFirst()
        .map(Timetable.Slot::startSeconds);
  }
}
