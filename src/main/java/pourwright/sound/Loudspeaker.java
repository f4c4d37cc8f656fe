package pourwright.sound;

import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.LineUnavailableException;
import javax.sound.sampled.SourceDataLine;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Plays signals on this machine, on a thread of its own. On a machine without sound it says so in
 * the log once and stays silent; a rehearsal never waits for it.
 */
public final class Loudspeaker implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Loudspeaker.class);
  private static final AudioFormat FORMAT =
      new AudioFormat(Synthesis.SAMPLES_PER_SECOND, 16, 1, true, false);

  /** Short, so that a cue starts at once: 20 ms of samples. */
  private static final int BUFFER_BYTES = 2 * Synthesis.SAMPLES_PER_SECOND / 50;

  private final double volume;
  private final BlockingQueue<Signal> waiting = new ArrayBlockingQueue<>(4);
  private final Thread thread;
  private final Source source;

  /** Where samples go. */
  interface Sink extends AutoCloseable {
    /** Takes all samples, waiting as long as they sound. */
    void play(byte[] pcm);

    @Override
    void close();
  }

  /** Opens a sink, or none where the machine has no sound. */
  interface Source {
    Optional<Sink> open();
  }

  private Loudspeaker(double volume, Source source) {
    this.volume = volume;
    this.source = source;
    this.thread = new Thread(this::work, "loudspeaker");
    thread.setDaemon(true);
  }

  /**
   * A loudspeaker of this machine.
   *
   * @param volume from 0 to 1
   */
  public static Loudspeaker ofMachine(double volume) {
    return of(volume, Loudspeaker::openLine);
  }

  static Loudspeaker of(double volume, Source source) {
    Loudspeaker made = new Loudspeaker(volume, source);
    made.thread.start();
    return made;
  }

  /** Plays a signal as soon as the one before is over; one too many is left out. */
  public void play(Signal signal) {
    if (!waiting.offer(signal)) {
      LOG.debug("no time to play {}", signal);
    }
  }

  private void work() {
    Set<Signal> told = new HashSet<>();
    @Nullable Sink sink = null;
    try {
      while (true) {
        Signal signal = waiting.take();
        if (sink == null) {
          sink = source.open().orElse(null);
        }
        if (sink != null) {
          sink.play(Synthesis.pcm(signal, volume));
        } else if (told.add(signal)) {
          LOG.debug("no sound on this machine for {}", signal);
        }
      }
    } catch (InterruptedException closed) {
      // The rehearsal is over.
    } finally {
      if (sink != null) {
        sink.close();
      }
    }
  }

  @Override
  public void close() {
    thread.interrupt();
  }

  private static Optional<Sink> openLine() {
    try {
      SourceDataLine line = AudioSystem.getSourceDataLine(FORMAT);
      line.open(FORMAT, BUFFER_BYTES);
      line.start();
      return Optional.of(new LineSink(line));
    } catch (LineUnavailableException | IllegalArgumentException | SecurityException none) {
      LOG.info("this machine plays no sound: {}", none.getMessage());
      return Optional.empty();
    }
  }

  private record LineSink(SourceDataLine line) implements Sink {
    @Override
    public void play(byte[] pcm) {
      line.write(pcm, 0, pcm.length);
    }

    @Override
    public void close() {
      line.close();
    }
  }
}
