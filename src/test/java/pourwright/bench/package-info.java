/**
 * A bench for the pour detector: seeded recordings whose truth is known, a scorer, and the bounds
 * that no detector can beat.
 *
 * <p>Its physics is its own and shares nothing with the built-in simulated scale, so a detector
 * that suits both suits neither by habit. {@link pourwright.bench.DetectionBench} runs it.
 */
@NullMarked
package pourwright.bench;

import org.jspecify.annotations.NullMarked;
