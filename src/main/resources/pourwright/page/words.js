// The page's words and how numbers are written; the same word for the same thing everywhere.

export const PHASES = {
  looking_for_scale: "looking for the scale",
  settling: "put the rig on, tare it, hands off",
  armed: "armed: the first water starts the clock",
  running: "running",
  finished: "finished and kept",
};

export const CUES = {
  get_ready: "get ready",
  start: "pour",
  late: "late",
  slower: "slower",
  faster: "faster",
  ease_off: "ease off",
  stop: "stop",
  link_lost: "scale lost",
  link_back: "scale is back",
  done: "all poured",
};

export const REASONS = {
  first: "starts the clock",
  clock: "on the clock",
  gap: "after the gap",
  drained_expected: "when drained",
  drained: "bed is dry",
};

// Strokes on a 24 × 24 field: a dial's hand, a gap between two bars, a drop, a drop that fell.
export const REASON_MARKS = {
  first: "M12 3v18M5 14l7 7 7-7",
  clock: "M12 3a9 9 0 1 0 .01 0M12 6v6l5 3",
  gap: "M3 3v18M21 3v18M7 12h9M12 8l4 4-4 4",
  drained_expected: "M12 3c4 6 6 8 6 11a6 6 0 0 1-12 0c0-3 2-5 6-11z",
  drained: "M4 21h16M12 3v12M7 10l5 5 5-5",
};

export const FEEDBACK = {
  full: "full feedback",
  bandwidth: "feedback outside tolerance only",
  faded: "fading feedback",
  blind: "blind run",
};

export const VERDICTS = {
  inside: "inside",
  outside: "outside",
  missed: "missed",
  extra: "not planned",
  split: "in pieces",
  merged: "run together",
};

const MINUS = "−";

export function grams(value, digits = 0) {
  return tidy(value, digits);
}

export function signed(value, digits = 1) {
  const text = tidy(Math.abs(value), digits);
  if (Number(text) === 0) return text;
  return (value < 0 ? MINUS : "+") + text;
}

export function clock(seconds) {
  const sign = seconds < 0 ? MINUS : "";
  const whole = Math.floor(Math.abs(seconds));
  return `${sign}${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

function tidy(value, digits) {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text.replace("-", MINUS);
}
