package pourwright.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.mockito.Mockito;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.reading.Reading;
import pourwright.recording.AppendFile;
import pourwright.recording.TraceCsv;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.Played;
import pourwright.session.Rehearsal;
import pourwright.session.Setup;
import pourwright.session.Stand;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

@Timeout(60)
class RunFolderTest {
  private static final Stand STAND = new Stand(1, Place.WHOLE);

  private final Path runs;

  RunFolderTest(@TempDir Path folder) {
    this.runs = folder.resolve("runs");
  }

  private static Setup twoPours() {
    return Played.setup(
        List.of(Rig.WHOLE),
        List.of(Played.scale(1, Place.WHOLE, Played.weights(60, Played::twoPours))));
  }

  private static void weigh(RunFolder folder, int from, int to) {
    for (int i = from; i < to; i++) {
      SessionTime at = SessionTime.ofMillis(i * 100L);
      folder.chunk(STAND, new Chunk(at, Bytes.ofAscii(i + ".5\n")));
      folder.reading(STAND, new Reading(at, Mass.ofGrams(i + 0.5)));
    }
  }

  private static List<Double> kept(Path trace) throws IOException {
    var read = TraceCsv.read(trace, Place.WHOLE).trace();
    return Stream.iterate(0, i -> i < read.size(), i -> i + 1)
        .map(i -> read.nanogramsAt(i) / 1e9)
        .toList();
  }

  @Test
  void a_run_is_kept_as_files_that_stand_for_themselves() throws Exception {
    RunFolder folder = new RunFolder(runs);
    Rehearsal rehearsal = new Rehearsal(twoPours(), List.of(folder), List.of());
    rehearsal.run();

    Path kept = folder.folder().orElseThrow();
    assertThat(rehearsal.troubles()).isEmpty();
    assertThat(kept.getFileName().toString()).endsWith("_two-pours");
    assertThat(kept.resolve("plan.yaml")).content().startsWith("format: 1\ntitle: Two pours");
    assertThat(kept.resolve("whole.stream"))
        .content()
        .startsWith("#profile: one-number\n#rig: whole\n#place: whole\n");
    assertThat(kept(kept.resolve("trace.csv"))).hasSizeGreaterThan(400);
    JsonNode run = new ObjectMapper().readTree(kept.resolve("run.json").toFile());
    assertThat(run.path("recorded_at").asText()).isEqualTo("2026-03-01T10:00:00Z");
    assertThat(run.path("lanes").path(0).path("scales").path(0).path("place").asText())
        .isEqualTo("whole");
    JsonNode result = new ObjectMapper().readTree(kept.resolve("result.json").toFile());
    assertThat(result.path("pours")).hasSize(2);
    assertThat(result.path("pours").path(1).path("poured_g").asDouble()).isCloseTo(60, within(0.5));
    assertThat(result.path("ended").asText()).isEqualTo("lifted");
    assertThat(result.path("comparison").path("pours")).hasSize(2);
    assertThat(kept.resolve("result.json.part")).doesNotExist();
  }

  @Test
  void several_brewers_have_a_folder_each() throws Exception {
    RunFolder folder = new RunFolder(runs);
    new Rehearsal(
            Played.setup(
                List.of(Rig.WHOLE, Rig.SPLIT),
                List.of(
                    Played.scale(1, Place.WHOLE, Played.weights(5, at -> 0)),
                    Played.scale(2, Place.WHOLE, Played.weights(5, at -> 1)),
                    Played.scale(2, Place.SERVER, Played.weights(5, at -> 2)))),
            List.of(folder),
            List.of())
        .run();

    Path kept = folder.folder().orElseThrow();
    assertThat(kept.resolve("lane-1/whole.stream")).exists();
    assertThat(kept.resolve("lane-2/server.stream")).exists();
    assertThat(kept.resolve("lane-2/trace.csv")).content().startsWith("time_s,mass_g,scale,stable");
    assertThat(kept.resolve("lane-2/result.json")).exists();
  }

  @Test
  void two_runs_of_one_second_do_not_share_a_folder() throws Exception {
    RunFolder first = new RunFolder(runs);
    RunFolder second = new RunFolder(runs);
    for (RunFolder folder : List.of(first, second)) {
      folder.begin(twoPours().start());
      folder.persist();
    }

    assertThat(first.folder()).isNotEqualTo(second.folder());
    assertThat(second.folder().orElseThrow().toString()).endsWith("_two-pours-2");
  }

  @Test
  void a_full_disk_loses_nothing_and_what_waited_is_written_once_there_is_room() throws Exception {
    AtomicBoolean isFull = new AtomicBoolean();
    RunFolder folder = new RunFolder(runs, path -> AppendFile.over(fillable(path, isFull)));
    folder.begin(twoPours().start());
    weigh(folder, 0, 10);
    folder.persist();
    Path trace = folder.folder().orElseThrow().resolve("trace.csv");

    isFull.set(true);
    weigh(folder, 10, 20);
    assertThatThrownBy(folder::persist)
        .isInstanceOf(IOException.class)
        .hasMessageContaining("the disk is full")
        .hasMessageContaining(runs.toString())
        .hasMessageContaining("make room");
    assertThat(kept(trace)).startsWith(0.5, 1.5).hasSizeGreaterThanOrEqualTo(10);
    weigh(folder, 20, 30);
    assertThatThrownBy(folder::persist).isInstanceOf(IOException.class);

    isFull.set(false);
    folder.persist();
    assertThat(kept(trace)).isEqualTo(Stream.iterate(0.5, mass -> mass + 1).limit(30).toList());
  }

  @Test
  void a_folder_that_cannot_be_made_yet_is_made_later_with_all_that_was_noted() throws Exception {
    Files.writeString(runs, "a file is in the way");
    RunFolder folder = new RunFolder(runs);
    folder.begin(twoPours().start());
    weigh(folder, 0, 5);
    assertThatThrownBy(folder::persist)
        .isInstanceOf(IOException.class)
        .hasMessageContaining("a file of that name is in the way");
    assertThat(folder.folder()).isEmpty();

    Files.delete(runs);
    weigh(folder, 5, 10);
    folder.persist();
    assertThat(kept(folder.folder().orElseThrow().resolve("trace.csv"))).hasSize(10);
  }

  @Test
  void a_folder_in_which_not_everything_could_be_made_is_taken_back() throws Exception {
    AtomicBoolean isFull = new AtomicBoolean(true);
    RunFolder folder =
        new RunFolder(
            runs,
            path -> {
              if (isFull.get() && path.endsWith("trace.csv")) {
                throw new IOException("No space left on device");
              }
              return AppendFile.create(path);
            });
    folder.begin(twoPours().start());
    assertThatThrownBy(folder::persist).hasMessageContaining("the disk is full");
    assertThat(runs).isEmptyDirectory();

    isFull.set(false);
    folder.persist();
    assertThat(folder.folder().orElseThrow().resolve("trace.csv")).exists();
  }

  /** A file on a disk that, while it is full, takes a few more bytes and then none. */
  private static FileChannel fillable(Path path, AtomicBoolean isFull) throws IOException {
    FileChannel real =
        FileChannel.open(path, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    FileChannel channel = Mockito.mock(FileChannel.class);
    AtomicBoolean tookSome = new AtomicBoolean();
    Mockito.when(channel.write(Mockito.any(ByteBuffer.class)))
        .thenAnswer(
            call -> {
              ByteBuffer bytes = call.getArgument(0);
              if (!isFull.get()) {
                return real.write(bytes);
              }
              if (tookSome.getAndSet(true)) {
                throw new IOException("No space left on device");
              }
              int some = Math.min(7, bytes.remaining());
              int limit = bytes.limit();
              bytes.limit(bytes.position() + some);
              real.write(bytes);
              bytes.limit(limit);
              return some;
            });
    return channel;
  }
}
