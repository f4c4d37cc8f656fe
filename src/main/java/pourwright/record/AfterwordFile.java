package pourwright.record;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Supplier;
import pourwright.session.Afterword;
import pourwright.session.Notebook;
import pourwright.units.Mass;

/** Keeps what the brewer adds to a run as {@code afterword.json} beside its other files. */
public final class AfterwordFile implements Notebook {
  private static final JsonFactory JSON = new JsonFactory();

  private final Supplier<Optional<Path>> runFolder;
  private final int lanes;

  /**
   * A notebook for one run.
   *
   * @param runFolder where the run is kept; empty while it has no folder
   * @param lanes of the run; with several, each has a folder of its own
   */
  public AfterwordFile(Supplier<Optional<Path>> runFolder, int lanes) {
    this.runFolder = runFolder;
    this.lanes = lanes;
  }

  @Override
  public synchronized void keep(Afterword afterword) throws IOException {
    Path folder =
        runFolder
            .get()
            .map(found -> lanes > 1 ? found.resolve("lane-" + afterword.lane()) : found)
            .orElseThrow(
                () ->
                    new IOException(
                        "The run itself could not be kept, so there is no place for your words."
                            + " Write them down."));
    Path file = folder.resolve("afterword.json");
    Path draft = folder.resolve("afterword.json.new");
    try {
      try (FileChannel channel =
          FileChannel.open(
              draft,
              StandardOpenOption.CREATE,
              StandardOpenOption.WRITE,
              StandardOpenOption.TRUNCATE_EXISTING)) {
        ByteBuffer text = ByteBuffer.wrap(json(afterword));
        while (text.hasRemaining()) {
          channel.write(text);
        }
        channel.force(true);
      }
      Files.move(draft, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (IOException failed) {
      throw new IOException(
          "Your words could not be kept in " + file + " (" + failed.getMessage() + ").", failed);
    }
  }

  private static byte[] json(Afterword afterword) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (JsonGenerator json = JSON.createGenerator(bytes).useDefaultPrettyPrinter()) {
      json.writeStartObject();
      json.writeNumberField("format", 1);
      if (afterword.strengthPercent().isPresent()) {
        json.writeNumberField("strength_pct", afterword.strengthPercent().getAsDouble());
      }
      if (afterword.note().isPresent()) {
        json.writeStringField("note", afterword.note().get());
      }
      json.writeArrayFieldStart("estimates");
      for (Map.Entry<Integer, Mass> guess : new TreeMap<>(afterword.estimates()).entrySet()) {
        json.writeStartObject();
        json.writeNumberField("pour", guess.getKey());
        json.writeNumberField("poured_g", guess.getValue().grams());
        json.writeEndObject();
      }
      json.writeEndArray();
      json.writeEndObject();
      json.writeRaw('\n');
    }
    return bytes.toByteArray();
  }
}
