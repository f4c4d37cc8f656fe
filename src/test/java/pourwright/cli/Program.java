package pourwright.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.condition.OS;

/** The packaged program, run as a process of its own. */
final class Program implements AutoCloseable {
  private static final Duration POLL = Duration.ofMillis(20);

  private final Process process;
  private final Path out;
  private final Path err;

  private Program(Process process, Path out, Path err) {
    this.process = process;
    this.out = out;
    this.err = err;
  }

  /**
   * Starts the jar.
   *
   * @param folder for what it prints
   * @param name unique in the folder
   */
  static Program start(Path folder, String name, String... args) throws IOException {
    return start(folder, name, new Launch(List.of(), jar(), List.of()), args);
  }

  /** What is built and tested. */
  static Path jar() {
    return Path.of(System.getProperty("pourwright.jar", "target/pourwright.jar"));
  }

  /**
   * How a program is started.
   *
   * @param by a command that starts the one after it, such as one that changes the user
   * @param options of the virtual machine
   */
  record Launch(List<String> by, Path jar, List<String> options) {}

  /** Starts the program in a way of its own. */
  static Program start(Path folder, String name, Launch launch, String... args) throws IOException {
    List<String> command = new ArrayList<>(launch.by());
    if (OS.LINUX.isCurrentOs()) {
      // Else Ctrl-C would mean nothing to it where the tests themselves run in the background.
      command.addAll(List.of("env", "--default-signal=INT"));
    }
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(launch.options());
    command.add("-jar");
    command.add(launch.jar().toString());
    command.addAll(List.of(args));
    Path out = folder.resolve(name + ".out");
    Path err = folder.resolve(name + ".err");
    Process process =
        new ProcessBuilder(command)
            .redirectOutput(out.toFile())
            .redirectError(err.toFile())
            .start();
    return new Program(process, out, err);
  }

  /** Runs it to its end. */
  static Ran run(Path folder, String name, String... args)
      throws IOException, InterruptedException {
    try (Program program = start(folder, name, args)) {
      return program.end(Duration.ofMinutes(2));
    }
  }

  /** Runs it to its end in a way of its own. */
  static Ran run(Path folder, String name, Launch launch, String... args)
      throws IOException, InterruptedException {
    try (Program program = start(folder, name, launch, args)) {
      return program.end(Duration.ofMinutes(2));
    }
  }

  /** Waits until it has said {@code words} on standard error. */
  void awaitTalk(String words, Duration limit) throws IOException, InterruptedException {
    long until = System.nanoTime() + limit.toNanos();
    while (!Files.readString(err).contains(words)) {
      if (System.nanoTime() > until || !process.isAlive()) {
        throw new AssertionError(
            "it never said '" + words + "' but: " + Files.readString(err) + Files.readString(out));
      }
      Thread.sleep(POLL.toMillis());
    }
  }

  long id() {
    return process.pid();
  }

  boolean isRunning() {
    return process.isAlive();
  }

  /** Waits for its end. */
  Ran end(Duration limit) throws IOException, InterruptedException {
    if (!process.waitFor(limit.toMillis(), TimeUnit.MILLISECONDS)) {
      throw new AssertionError("it does not end; it said: " + Files.readString(err));
    }
    return new Ran(process.exitValue(), Files.readString(out), Files.readString(err));
  }

  /** Asks it to end, as Ctrl-C does. */
  void interrupt() throws IOException, InterruptedException {
    new ProcessBuilder("kill", "-INT", String.valueOf(process.pid())).start().waitFor();
  }

  /** Ends it without a chance to do anything more. */
  void kill() throws InterruptedException {
    process.destroyForcibly();
    process.waitFor();
  }

  @Override
  public void close() {
    process.destroyForcibly();
  }
}
