package pourwright.bench;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import pourwright.reading.Stability;
import pourwright.rig.Place;

/** Writes a made recording as a trace that {@code analyse} reads, with its truth beside it. */
final class Dump {
  private Dump() {}

  private record Row(Place place, Take.Sample sample) {}

  /** Writes {@code FAMILY-SEED.csv} and {@code FAMILY-SEED.json} into a folder. */
  static void write(Take take, Path folder) throws IOException {
    Files.createDirectories(folder);
    String name = take.family().word() + "-" + take.seed();
    Files.writeString(folder.resolve(name + ".csv"), trace(take));
    new ObjectMapper()
        .enable(SerializationFeature.INDENT_OUTPUT)
        .writeValue(folder.resolve(name + ".json").toFile(), truth(take));
  }

  static String trace(Take take) {
    List<Row> rows = new ArrayList<>();
    for (Map.Entry<Place, Take.Curve> curve : take.curves().entrySet()) {
      curve.getValue().samples().forEach(sample -> rows.add(new Row(curve.getKey(), sample)));
    }
    rows.sort(Comparator.comparing(row -> row.sample().reading().at()));
    boolean isSplit = take.curves().size() > 1;
    boolean saysStable =
        rows.stream().anyMatch(row -> row.sample().reading().stability() != Stability.UNSTATED);
    StringBuilder out = new StringBuilder("time_s,mass_g");
    out.append(isSplit ? ",scale" : "").append(saysStable ? ",stable" : "").append("\r\n");
    for (Row row : rows) {
      out.append(
          String.format(Locale.ROOT, "%.4f,%.2f", row.sample().seconds(), row.sample().grams()));
      if (isSplit) {
        out.append(',').append(row.place().word());
      }
      if (saysStable) {
        out.append(row.sample().reading().stability() == Stability.STABLE ? ",1" : ",0");
      }
      out.append("\r\n");
    }
    return out.toString();
  }

  private static ObjectNode truth(Take take) {
    ObjectNode root = new ObjectMapper().createObjectNode();
    root.put("family", take.family().word()).put("seed", take.seed());
    root.put("rig", take.rig().word()).put("dose_g", take.doseGrams()).put("about", take.about());
    ArrayNode pours = root.putArray("pours");
    for (Truth.Pour pour : take.truth().pours()) {
      ObjectNode node = pours.addObject();
      node.put("start_s", pour.startSeconds()).put("end_s", pour.endSeconds());
      node.put("poured_g", pour.grams()).put("cut", pour.isCut());
      pour.drainedSeconds().ifPresent(at -> node.put("drained_s", at));
    }
    take.truth()
        .lift()
        .ifPresent(
            lift ->
                root.putObject("lift")
                    .put("time_s", lift.seconds())
                    .put("removed_g", lift.removedGrams())
                    .put("beverage_g", lift.beverageGrams()));
    ArrayNode mishaps = root.putArray("mishaps");
    for (Truth.Mishap mishap : take.truth().mishaps()) {
      mishaps
          .addObject()
          .put("kind", mishap.kind())
          .put("start_s", mishap.startSeconds())
          .put("end_s", mishap.endSeconds());
    }
    ArrayNode gaps = root.putArray("gaps");
    for (Truth.Gap gap : take.truth().gaps()) {
      gaps.addObject().put("start_s", gap.startSeconds()).put("end_s", gap.endSeconds());
    }
    return root;
  }
}
