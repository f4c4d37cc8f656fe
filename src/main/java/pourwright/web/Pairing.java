package pourwright.web;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.Locale;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.LongSupplier;
import java.util.random.RandomGenerator;

/**
 * Admits devices by a code that is shown on this machine.
 *
 * <p>A code is good for one device; then the next is shown. Guessing is slowed down for everyone
 * together: about six tries a minute against 30⁶ codes, so even a year of guessing finds one with a
 * chance below one in two hundred; after twenty wrong tries the code changes besides.
 */
public final class Pairing {
  /** No 0, 1, I, L, O or U: nothing to misread or to misspell. */
  private static final String ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ";

  private static final int CODE_LENGTH = 6;
  private static final int TOKEN_BYTES = 32;
  private static final int MOST_DEVICES = 16;
  private static final int MOST_WRONG_TRIES = 20;

  private final RandomGenerator random;
  private final Consumer<String> onNewCode;
  private final Throttle tries;
  private final Set<String> tokens = new HashSet<>();
  private String code;
  private int wrong;

  /**
   * Pairs devices with this run of the program.
   *
   * @param random unguessable, a {@link java.security.SecureRandom} outside tests
   * @param nanoClock monotonic (ns)
   * @param onNewCode told each code as soon as it is good, to show it
   */
  public Pairing(RandomGenerator random, LongSupplier nanoClock, Consumer<String> onNewCode) {
    this.random = random;
    this.onNewCode = onNewCode;
    this.tries = new Throttle(5, 0.1, nanoClock);
    this.code = nextCode();
    onNewCode.accept(code);
  }

  /** What a try came to. */
  sealed interface Result {
    /** The device shows this token from now on. */
    record Paired(String token) implements Result {}

    record WrongCode() implements Result {}

    /** Too many tries, or too many devices. */
    record NotNow(String why) implements Result {}
  }

  /** The code that is good now, such as {@code K7M4TX}. */
  public synchronized String code() {
    return code;
  }

  /**
   * A device offers a code.
   *
   * @param given as typed: case, blanks and hyphens do not count
   */
  synchronized Result offer(String given) {
    if (!tries.tryPass()) {
      return new Result.NotNow("Too many tries. Wait a minute, then enter the code again.");
    }
    if (tokens.size() >= MOST_DEVICES) {
      return new Result.NotNow(
          MOST_DEVICES + " devices are paired already. Start the program again to pair others.");
    }
    String typed = given.replaceAll("[\\s-]", "").toUpperCase(Locale.ROOT);
    if (!MessageDigest.isEqual(
        typed.getBytes(StandardCharsets.UTF_8), code.getBytes(StandardCharsets.UTF_8))) {
      wrong++;
      if (wrong >= MOST_WRONG_TRIES) {
        renew();
      }
      return new Result.WrongCode();
    }
    byte[] secret = new byte[TOKEN_BYTES];
    random.nextBytes(secret);
    String token = HexFormat.of().formatHex(secret);
    tokens.add(token);
    renew();
    return new Result.Paired(token);
  }

  synchronized boolean isPaired(String token) {
    return tokens.contains(token);
  }

  private void renew() {
    wrong = 0;
    code = nextCode();
    onNewCode.accept(code);
  }

  private String nextCode() {
    StringBuilder next = new StringBuilder();
    for (int i = 0; i < CODE_LENGTH; i++) {
      next.append(ALPHABET.charAt(random.nextInt(ALPHABET.length())));
    }
    return next.toString();
  }
}
