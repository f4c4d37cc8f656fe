package pourwright.device.protocol;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;
import pourwright.device.BleSettings;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.Decoder;
import pourwright.device.Decoder.Decoded;
import pourwright.device.catalogue.Profiles;
import pourwright.units.SessionTime;

/**
 * Throws random and mutated bytes at every shipped decoder and holds it to three promises: nothing
 * is thrown, every byte is accounted for once, and the weights are exactly those that stand whole
 * in the stream by the opinion of {@link Recogniser}.
 *
 * <p>{@code mvn -q test-compile exec:java -Dexec.classpathScope=test
 * -Dexec.mainClass=pourwright.device.protocol.DecoderFuzz -Dexec.args=50000000}
 */
public final class DecoderFuzz {
  private static final int STREAM_BYTES = 4096;
  private static final int GREATEST_TAIL = 160;

  /** Lengths of messages that some profile takes (bytes). */
  private static final int[] LIKELY_MESSAGES = {3, 4, 7, 8, 10, 11, 12, 14, 15};

  private DecoderFuzz() {}

  /**
   * Runs until every decoder has had its share.
   *
   * @param args bytes in all (50 million where left out), then the first seed (1)
   */
  public static void main(String[] args) {
    List<Profile> profiles = Profiles.shipped().list();
    long bytes = args.length > 0 ? Long.parseLong(args[0]) : 50_000_000;
    long firstSeed = args.length > 1 ? Long.parseLong(args[1]) : 1;
    long share = bytes / profiles.size() + 1;
    long begun = System.nanoTime();
    long total = 0;
    for (Profile profile : profiles) {
      Count count = Count.NONE;
      for (long seed = firstSeed; count.bytes() < share; seed++) {
        count = count.plus(check(profile, seed, STREAM_BYTES));
      }
      total += count.bytes();
      System.out.printf(
          "%-14s %,12d bytes %,10d weights %,10d pieces of junk%n",
          profile.name(), count.bytes(), count.weights(), count.junk());
    }
    System.out.printf(
        "%,d bytes in %.0f s: nothing thrown, no byte lost or doubled, no weight made up or missed%n",
        total, (System.nanoTime() - begun) / 1e9);
  }

  /** What one stream came to. */
  record Count(long bytes, long weights, long junk) {
    static final Count NONE = new Count(0, 0, 0);

    Count plus(Count other) {
      return new Count(bytes + other.bytes, weights + other.weights, junk + other.junk);
    }
  }

  /** One seed: a stream cut at random, or as many bytes in messages. */
  static Count check(Profile profile, long seed, int size) {
    return profile.ble().filter(BleSettings::isMessageWise).isPresent()
        ? messages(profile, seed, size)
        : stream(profile, seed, size);
  }

  private static Count messages(Profile profile, long seed, int size) {
    Decoder decoder = profile.newDecoder();
    SplittableRandom random = new SplittableRandom(seed);
    Count count = Count.NONE;
    while (count.bytes() < size) {
      boolean isLikely = random.nextInt(4) > 0;
      int likely = LIKELY_MESSAGES[random.nextInt(LIKELY_MESSAGES.length)];
      byte[] message = new byte[isLikely ? likely : random.nextInt(1, 24)];
      random.nextBytes(message);
      if (isLikely) {
        message[0] &= 0x0f;
      }
      List<Decoded> said = decoder.feed(new Chunk(SessionTime.ZERO, Bytes.copyOf(message)));
      List<Long> masses =
          said.stream()
              .filter(Decoded.Weighed.class::isInstance)
              .map(one -> ((Decoded.Weighed) one).reading().mass().nanograms())
              .toList();
      OptionalLong expected = Recogniser.message(profile.name(), message);
      require(
          masses.equals(expected.stream().boxed().toList()),
          "read " + masses + " for " + expected,
          profile,
          seed);
      boolean isJunk = said.stream().anyMatch(Decoded.Junk.class::isInstance);
      count = count.plus(new Count(message.length, masses.size(), isJunk ? 1 : 0));
    }
    return count;
  }

  private static Count stream(Profile profile, long seed, int size) {
    byte[] stream = new Noise(profile, seed).stream(size);
    Book book = new Book(stream);
    StreamDecoder decoder = (StreamDecoder) profile.newDecoder();
    decoder.keepBooksIn(book);
    SplittableRandom random = new SplittableRandom(~seed);
    int greatestCut = random.nextBoolean() ? 3 : 200;
    for (int from = 0; from < stream.length; ) {
      int to = Math.min(stream.length, from + random.nextInt(1, greatestCut + 1));
      decoder.feed(new Chunk(SessionTime.ZERO, Bytes.copyOf(stream, from, to)));
      from = to;
      require(book.booked + decoder.waiting() == to, "bytes lost or doubled", profile, seed);
      require(decoder.waiting() <= GREATEST_TAIL, "the tail grows", profile, seed);
    }
    List<Recogniser.Found> expected = Recogniser.find(profile.name(), stream);
    require(book.fault == null, String.valueOf(book.fault), profile, seed);
    require(
        book.found.equals(expected),
        "read " + difference(book.found, expected) + " of the second opinion",
        profile,
        seed);
    return new Count(stream.length, book.found.size(), book.junk);
  }

  private static String difference(List<Recogniser.Found> read, List<Recogniser.Found> expected) {
    List<Recogniser.Found> madeUp = new ArrayList<>(read);
    madeUp.removeAll(expected);
    List<Recogniser.Found> missed = new ArrayList<>(expected);
    missed.removeAll(read);
    return madeUp + " more and " + missed + " less";
  }

  private static void require(boolean isKept, String what, Profile profile, long seed) {
    if (!isKept) {
      throw new AssertionError(profile.name() + ", seed " + seed + ": " + what);
    }
  }

  /** Books every byte once. */
  private static final class Book implements StreamDecoder.Ledger {
    private final byte[] stream;
    private final List<Recogniser.Found> found = new ArrayList<>();
    private long booked;
    private long junk;
    private @Nullable String fault;

    private Book(byte[] stream) {
      this.stream = stream;
    }

    @Override
    public void booked(long from, long to, @Nullable Decoded what) {
      if (from != booked || to <= from) {
        fault = "booked " + from + " to " + to + " after " + booked;
      }
      booked = to;
      if (what instanceof Decoded.Weighed weighed) {
        found.add(new Recogniser.Found((int) to, weighed.reading().mass().nanograms()));
      } else if (what instanceof Decoded.Junk lost) {
        junk++;
        if (!lost.skipped().equals(Bytes.copyOf(stream, (int) from, (int) to))) {
          fault = "junk at " + from + " is not what was sent";
        }
      }
    }
  }
}
