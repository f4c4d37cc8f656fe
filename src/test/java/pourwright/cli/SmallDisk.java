package pourwright.cli;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * A disk of the operating system, small enough to be filled to its last byte: no write to it
 * succeeds until room is made. Needs the right to mount one.
 */
final class SmallDisk implements AutoCloseable {
  private static final int ROOM_KILOBYTES = 2048;

  private final Path folder;
  private final Path ballast;

  private SmallDisk(Path folder) {
    this.folder = folder;
    this.ballast = folder.resolve("ballast");
  }

  /** Whether this user may mount disks here. */
  static boolean canBeHad(Path folder) throws IOException, InterruptedException {
    Path trial = Files.createDirectories(folder.resolve("trial"));
    boolean can = done("mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", trial.toString());
    return can && done("umount", trial.toString());
  }

  /** An empty disk in a new folder. */
  static SmallDisk mountedAt(Path folder) throws IOException, InterruptedException {
    Files.createDirectories(folder);
    must("mount", "-t", "tmpfs", "-o", "size=" + ROOM_KILOBYTES + "k", "tmpfs", folder.toString());
    return new SmallDisk(folder);
  }

  Path folder() {
    return folder;
  }

  /** Takes all the room there is. */
  void fill() throws IOException {
    byte[] block = new byte[512];
    try (OutputStream out = Files.newOutputStream(ballast)) {
      while (true) {
        out.write(block);
      }
    } catch (IOException full) {
      if (!String.valueOf(full.getMessage()).contains("No space left")) {
        throw full;
      }
    }
  }

  void makeRoom() throws IOException {
    Files.delete(ballast);
  }

  /** From now on nothing can be changed on it, by anyone. */
  void writeProtect() throws IOException, InterruptedException {
    must("mount", "-o", "remount,ro", folder.toString());
  }

  @Override
  public void close() throws IOException {
    try {
      must("umount", "-l", folder.toString());
    } catch (InterruptedException told) {
      Thread.currentThread().interrupt();
    }
  }

  private static void must(String... command) throws IOException, InterruptedException {
    if (!done(command)) {
      throw new IOException("failed: " + String.join(" ", command));
    }
  }

  private static boolean done(String... command) throws IOException, InterruptedException {
    Process process;
    try {
      process =
          new ProcessBuilder(List.of(command))
              .redirectErrorStream(true)
              .redirectOutput(ProcessBuilder.Redirect.DISCARD)
              .start();
    } catch (IOException noSuchProgram) {
      return false;
    }
    return process.waitFor(30, TimeUnit.SECONDS) && process.exitValue() == 0;
  }
}
