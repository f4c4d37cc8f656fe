package pourwright.journal;

import java.time.Instant;
import java.util.Optional;

/**
 * The program that records a run, told from every later one that happens to get its number.
 *
 * @param process as the operating system counts
 * @param since when it was started (ms since 1970); 0 where the operating system does not tell
 */
record Owner(long process, long since) {
  /** Programs reckon the start of another one from the wall clock, which may be corrected. */
  private static final long SAME_START_MILLIS = 5_000;

  static Owner self() {
    return of(ProcessHandle.current());
  }

  private static Owner of(ProcessHandle handle) {
    return new Owner(
        handle.pid(), handle.info().startInstant().map(Instant::toEpochMilli).orElse(0L));
  }

  boolean isAlive() {
    Optional<ProcessHandle> same = ProcessHandle.of(process).filter(ProcessHandle::isAlive);
    return same.isPresent()
        && (since == 0 || Math.abs(of(same.get()).since - since) <= SAME_START_MILLIS);
  }
}
