package pourwright.builder;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import pourwright.forecast.Experience;
import pourwright.forecast.Forecast;
import pourwright.forecast.Kit;
import pourwright.forecast.PastRun;
import pourwright.plan.Plan;
import pourwright.plan.PlanProblem;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.plan.PlanWriter;
import pourwright.plan.PlannedPour;
import pourwright.plan.Schedule;
import pourwright.plan.Start;
import pourwright.recipe.CupEffects;
import pourwright.recipe.Scheme;
import pourwright.web.Answer;
import pourwright.web.Desk;
import pourwright.web.Question;

/** Answers the plan page: foresees drafts, mixes water, keeps plans as files in one folder. */
public final class PlanDesk implements Desk {
  private static final String HERE = "/api/v1/plan/";
  private static final String ENDING = ".yaml";
  private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9 _-]{0,59}");
  private static final JsonFactory JSON = new JsonFactory();

  private final Path folder;
  private final Past past;

  /** Reading many runs takes a while, and a page asks at every key. */
  private final Map<String, List<PastRun>> remembered = new ConcurrentHashMap<>();

  /**
   * A desk.
   *
   * @param folder of the plans; made when the first one is saved
   */
  public PlanDesk(Path folder, Past past) {
    this.folder = folder;
    this.past = past;
  }

  @Override
  public Optional<Answer> answer(Question question) {
    if (!question.path().startsWith(HERE)) {
      return Optional.empty();
    }
    String asked = question.path().substring(HERE.length());
    try {
      return switch ((question.isRead() ? "read " : "do ") + asked) {
        case "read list" -> Optional.of(list());
        case "read open" -> Optional.of(open(question.findParameter("name").orElse("")));
        case "do foresee" -> Optional.of(foresee(draft(Fields.of(question.body()))));
        case "do water" -> Optional.of(water(new WaterDraft(Fields.of(question.body()))));
        case "do save" -> Optional.of(save(Fields.of(question.body())));
        default -> Optional.empty();
      };
    } catch (BadDraft bad) {
      return Optional.of(Answer.no(400, String.valueOf(bad.getMessage())));
    } catch (IOException failed) {
      return Optional.of(Answer.no(500, String.valueOf(failed.getMessage())));
    }
  }

  private Draft draft(Fields fields) throws BadDraft, IOException {
    String from = fields.text("from", "");
    return new Draft(fields, from.isEmpty() ? Optional.empty() : findPlan(from));
  }

  private Answer foresee(Draft draft) throws BadDraft, IOException {
    Draft.Made made = draft.make();
    StringWriter text = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(text)) {
      json.writeStartObject();
      json.writeArrayFieldStart("problems");
      if (made instanceof Draft.Made.Not not) {
        for (String problem : not.problems()) {
          json.writeString(problem);
        }
      }
      json.writeEndArray();
      if (made instanceof Draft.Made.Planned planned) {
        foresee(json, draft, planned.plan());
      }
      json.writeEndObject();
    }
    return Answer.json(text.toString());
  }

  private void foresee(JsonGenerator json, Draft draft, Plan plan) throws BadDraft, IOException {
    Kit kit = draft.kit();
    Optional<Boolean> areSimulated = draft.learnsFromSimulated();
    Experience experience =
        Experience.of(
            kit.dripper(),
            plan.dose(),
            areSimulated.isPresent() ? runs(plan.title(), areSimulated.get()) : List.of());
    String written = PlanWriter.write(plan);
    json.writeObjectFieldStart("plan");
    PlanJson.plan(json, Schedule.of(plan));
    json.writeEndObject();
    json.writeStringField("text", written);
    json.writeArrayFieldStart("warnings");
    for (String warning : warnings(written)) {
      json.writeString(warning);
    }
    json.writeEndArray();
    Scheme scheme = Scheme.of(plan);
    json.writeObjectFieldStart("scheme");
    json.writeNumberField("ratio", scheme.ratio());
    json.writeNumberField("first_of_opening", scheme.firstOfOpening());
    json.writeNumberField("closing_pours", scheme.closingPours());
    json.writeBooleanField("waits_for_bed", scheme.waitsForBed());
    if (scheme.kettleCelsius().isPresent()) {
      json.writeNumberField("kettle_c", scheme.kettleCelsius().getAsDouble());
    }
    json.writeEndObject();
    json.writeArrayFieldStart("cup");
    for (String sentence : draft.was().map(was -> CupEffects.of(was, scheme)).orElse(List.of())) {
      json.writeString(sentence);
    }
    json.writeEndArray();
    ForecastJson.forecast(json, Forecast.of(plan, kit, experience), experience);
  }

  private static Answer water(WaterDraft draft) throws BadDraft, IOException {
    WaterDraft.Made made = draft.make();
    StringWriter text = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(text)) {
      json.writeStartObject();
      if (made instanceof WaterDraft.Made.Mixed mixed) {
        BlendJson.blend(json, mixed.blend());
      } else {
        json.writeStringField("problem", ((WaterDraft.Made.Not) made).problem());
      }
      json.writeEndObject();
    }
    return Answer.json(text.toString());
  }

  private List<PastRun> runs(String title, boolean areSimulated) throws IOException {
    String key = areSimulated + title;
    List<PastRun> known = remembered.get(key);
    if (known == null) {
      known = past.runs(title, areSimulated);
      remembered.put(key, known);
    }
    return known;
  }

  private static List<String> warnings(String written) {
    PlanReading reading = PlanReader.read(written, "plan");
    List<PlanProblem> problems =
        reading instanceof PlanReading.Understood understood
            ? understood.warnings()
            : ((PlanReading.Refused) reading).problems();
    return problems.stream().map(problem -> problem.wrong() + "; " + problem.right()).toList();
  }

  private Answer save(Fields fields) throws BadDraft, IOException {
    String name = fields.text("name", "");
    Path file = file(name);
    Draft.Made made = draft(fields).make();
    if (made instanceof Draft.Made.Not not) {
      return Answer.no(400, "Not saved: " + String.join("; ", not.problems()));
    }
    String text = PlanWriter.write(((Draft.Made.Planned) made).plan());
    if (PlanReader.read(text, name) instanceof PlanReading.Refused refused) {
      return Answer.no(400, "Not saved: " + refused.problems().get(0).wrong() + ".");
    }
    try {
      if (!keep(file, text, fields.isSet("replace"))) {
        return Answer.no(409, "There is a plan \"" + name + "\" already.");
      }
    } catch (IOException failed) {
      return Answer.no(
          500, "Not saved: " + folder + " cannot be written to (" + failed.getMessage() + ").");
    }
    StringWriter said = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(said)) {
      json.writeStartObject();
      json.writeStringField("name", name);
      json.writeStringField("file", file.toString());
      json.writeEndObject();
    }
    return Answer.json(said.toString());
  }

  /** Whether it was written; not when it is there and may not be replaced. */
  private boolean keep(Path file, String text, boolean mayReplace) throws IOException {
    Files.createDirectories(folder);
    if (mayReplace) {
      // whole or not at all: a plan half written would be worse than the old one
      Path beside = Files.createTempFile(folder, "saving-", ".part");
      Files.writeString(beside, text, StandardCharsets.UTF_8);
      Files.move(beside, file, StandardCopyOption.REPLACE_EXISTING);
    } else {
      try {
        Files.writeString(file, text, StandardCharsets.UTF_8, StandardOpenOption.CREATE_NEW);
      } catch (FileAlreadyExistsException there) {
        return false;
      }
    }
    return true;
  }

  /** Asked by a page that opens, so this is the time to look at the runs again. */
  private Answer list() throws IOException {
    remembered.clear();
    StringWriter text = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(text)) {
      json.writeStartArray();
      for (String name : names()) {
        json.writeString(name);
      }
      json.writeEndArray();
    }
    return Answer.json(text.toString());
  }

  private List<String> names() throws IOException {
    if (!Files.isDirectory(folder)) {
      return List.of();
    }
    try (Stream<Path> inside = Files.list(folder)) {
      return inside
          .map(file -> file.getFileName().toString())
          .filter(file -> file.endsWith(ENDING))
          .map(file -> file.substring(0, file.length() - ENDING.length()))
          .filter(name -> NAME.matcher(name).matches())
          .sorted()
          .toList();
    }
  }

  private Answer open(String name) throws BadDraft, IOException {
    Optional<Plan> found = findPlan(name);
    if (found.isEmpty()) {
      return Answer.no(404, "There is no readable plan \"" + name + "\".");
    }
    Plan plan = found.get();
    StringWriter text = new StringWriter();
    try (JsonGenerator json = JSON.createGenerator(text)) {
      json.writeStartObject();
      json.writeStringField("from", name);
      json.writeStringField("title", plan.title());
      json.writeNumberField("dose_g", plan.dose().grams());
      json.writeNumberField("water_g", plan.water().grams());
      json.writeStringField("rig", plan.rig().word());
      if (plan.waterTemperatureCelsius().isPresent()) {
        json.writeNumberField("temp_c", plan.waterTemperatureCelsius().getAsDouble());
      }
      if (plan.targetStrengthPercent().isPresent()) {
        json.writeNumberField("strength_pct", plan.targetStrengthPercent().getAsDouble());
      }
      json.writeArrayFieldStart("pours");
      for (PlannedPour pour : plan.pours()) {
        json.writeStartObject();
        json.writeNumberField("add_g", pour.add().grams());
        json.writeNumberField("flow_g_per_s", pour.flow().gramsPerSecond());
        start(json, pour.start());
        json.writeEndObject();
      }
      json.writeEndArray();
      json.writeEndObject();
    }
    return Answer.json(text.toString());
  }

  private static void start(JsonGenerator json, Start start) throws IOException {
    if (start instanceof Start.AtClock clock) {
      json.writeStringField("start", "clock");
      json.writeNumberField("seconds", clock.at().seconds());
    } else if (start instanceof Start.AfterEnd after) {
      json.writeStringField("start", "gap");
      json.writeNumberField("seconds", after.gap().toNanos() / 1e9);
    } else {
      json.writeStringField("start", "drained");
      json.writeNumberField("seconds", ((Start.WhenDrained) start).expected().seconds());
    }
  }

  private Optional<Plan> findPlan(String name) throws BadDraft, IOException {
    try {
      String text = Files.readString(file(name), StandardCharsets.UTF_8);
      return PlanReader.read(text, name) instanceof PlanReading.Understood understood
          ? Optional.of(understood.plan())
          : Optional.empty();
    } catch (NoSuchFileException | CharacterCodingException unreadable) {
      return Optional.empty();
    }
  }

  /** A name holds no dot and no slash, so no file is reached but a plan of this folder. */
  private Path file(String name) throws BadDraft {
    if (!NAME.matcher(name).matches()) {
      throw new BadDraft(
          "Name the plan with letters, digits, blanks, - and _, at most 60 of them.");
    }
    return folder.resolve(name + ENDING);
  }
}
