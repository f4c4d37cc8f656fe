package pourwright.session;

import pourwright.units.Mass;

/** What a brewer can tell a running rehearsal; from any thread, by {@link Rehearsal#tell}. */
public sealed interface Command {

  /** This run does not count; it is kept and marked. Said twice it counts again. */
  record VoidRun() implements Command {}

  /** The bed of this lane has just run dry. */
  record MarkDrained(int lane) implements Command {}

  /** Take the present weight as zero, on every scale of the lane that can be asked. */
  record Tare(int lane) implements Command {}

  /**
   * The brewer's own guess, before the truth is shown.
   *
   * @param pour from 1
   * @param poured what the brewer believes to have poured in it
   */
  record Estimate(int lane, int pour, Mass poured) implements Command {}

  /** The one scale that is moved between stands under this lane's rig, whatever it seems. */
  record ScaleIsUnder(int lane) implements Command {}

  /** End the run now and keep it. */
  record Stop() implements Command {}
}
