package pourwright.bench;

/** What makes a recording hard. A family is a set of these. */
enum Trait {
  /** 0.08–0.3 g of noise of any colour. */
  NOISY,
  /** The scale's own filter runs 0.3–0.7 s behind. */
  SLOW,
  /** The display steps by 1 g. */
  COARSE,
  /** Readings arrive in bursts. */
  BATCHED,
  /** Kettle on the rim, hand, swirl, thump, object, vessel lifted. */
  DISTURBED,
  /** Tare in mid brew. */
  TARED,
  /** Readings missing for 2–5 s. */
  INTERRUPTED,
  /** 1.5–3 g/s. */
  GENTLE,
  /** Eight pours of 20–30 g. */
  PULSED
}
