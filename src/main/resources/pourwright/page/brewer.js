// One brewer during the run: the field with its horizon, the figure, what comes next, the course.

import { createCourse } from "/course.js";
import { CUES, REASONS, REASON_MARKS, grams, signed } from "/words.js";
import { send } from "/stream.js";

// A deviation of one tolerance moves the horizon by a third of the field's height.
const TOLERANCE_SHARE = 100 / 3;
const FARTHEST = 46;
// A flow that is off by its tolerance tilts the horizon by this share of the height, end to end.
const TILT_SHARE = 14;
const MOST_TILT = 28;
const SILLS_CLOSE_S = 10;
const CUE_SHOWN_S = 2.5;
const TALK_SHOWN_S = 12;
const TALK_AHEAD_S = 10;

export function createBrewer(lane, feedback) {
  const root = document.getElementById("brewer-template").content.firstElementChild.cloneNode(true);
  const one = (selector) => root.querySelector(selector);
  const both = (selector) => [...root.querySelectorAll(selector)];
  const plan = lane.plan || null;
  const parts = {
    figure: both(".figure"),
    unit: both(".unit"),
    which: both(":is(.which, .brewer-pour)"),
    flow: both(".flow-is"),
    cue: both(".cue"),
    surfaces: [one(".water"), one(".line")],
    ribbon: one(".ribbon"),
    guess: one(".guess"),
  };
  one(".brewer-who").textContent = lane.brewer;
  root.setAttribute("aria-label", lane.brewer);
  document.getElementById("live").append(root);
  const course = createCourse(one(".course"), plan, true);
  const seen = { figure: null, cue: null, result: null, talk: null, guessing: null };
  const skipped = new Set();
  let zero = null;
  const waiting = [];

  function write(elements, text) {
    for (const element of elements) if (element.textContent !== text) element.textContent = text;
  }

  function figure(text, isWord) {
    write(parts.figure, text);
    for (const element of parts.figure) element.classList.toggle("is-word", isWord);
  }

  // A whole number that trembles by a tenth is worse than one that is a third of a gram late.
  function steady(value) {
    if (seen.figure === null || Math.abs(value - seen.figure) > 0.6) seen.figure = Math.round(value);
    return seen.figure;
  }

  function horizon(middle, tilt) {
    const left = `${50 - middle + tilt / 2}%`;
    const right = `${50 - middle - tilt / 2}%`;
    for (const surface of parts.surfaces) {
      surface.style.setProperty("--left", left);
      surface.style.setProperty("--right", right);
    }
  }

  function level(guide) {
    if (!guide || guide.ahead_g === undefined || !plan) return horizon(0, 0);
    const middle = clamp((guide.ahead_g / plan.tolerance.mass_g) * TOLERANCE_SHARE, FARTHEST);
    const off = guide.flow_g_per_s - guide.wanted_flow_g_per_s;
    const tilt = clamp((off / plan.tolerance.flow_g_per_s) * TILT_SHARE, MOST_TILT);
    return horizon(middle, guide.in_this_pour_s > 1.5 ? tilt : 0);
  }

  // What the big figure says, and how the field stands.
  function showField(view) {
    const guide = view.guide;
    const isLost = view.links.some((link) => link.loss);
    const isPouring = view.phase === "running" && guide && guide.pour !== undefined;
    const isBlind = view.hidden;
    const next = guide && guide.next;
    const isWaiting = view.phase === "running" && !isPouring && Boolean(next);
    const isOpen = isPouring && guide.shown && !isBlind && !isLost;
    const until = next && next.in_s !== undefined ? next.in_s : null;
    const isLate = isWaiting && until !== null && plan && until < -plan.tolerance.start_s;
    const isOver = isOpen && guide.to_go_g < -plan.tolerance.mass_g;
    const isOff = isOpen && Math.abs(guide.ahead_g) > plan.tolerance.mass_g;

    root.classList.toggle("is-lost", isLost);
    root.classList.toggle("is-waiting", !isPouring);
    root.classList.toggle("is-late", isLate);
    root.classList.toggle("is-outside", isOver || isOff);
    root.classList.toggle("is-covered", isBlind || isLost || (isPouring && !isOpen));
    root.classList.toggle("has-turn", isPouring || (isWaiting && until !== null && until < 5));
    root.style.setProperty("--closed", sills(isWaiting && !isBlind, until));

    const number = isPouring ? guide.pour : next ? next.pour : null;
    write(parts.which, number && plan ? `pour ${number} of ${plan.pours.length}` : "");
    write(parts.flow, isOpen ? flows(guide) : "");
    if (!isPouring) seen.figure = null;

    if (isLost) {
      figure("no weight", true);
      write(parts.unit, isWaiting && until !== null ? `next in ${whole(until)} s` : "pour by the clock");
    } else if (isPouring && isBlind) {
      figure("blind", true);
      write(parts.unit, "");
    } else if (isOpen) {
      const toGo = steady(guide.to_go_g);
      figure(grams(Math.abs(toGo)), false);
      write(parts.unit, toGo < 0 ? "g too much" : "g to go");
    } else if (isPouring) {
      figure(grams(plan.pours[guide.pour - 1].add_g), false);
      write(parts.unit, "g in this pour");
    } else if (view.phase === "running" && next) {
      figure(grams(next.add_g), false);
      write(parts.unit, "g to pour");
    } else if (view.phase === "running") {
      figure(plan ? "lift" : grams(view.poured_g || 0), Boolean(plan));
      write(parts.unit, plan ? "the dripper when the bed is dry" : "g poured");
    } else if (view.phase === "armed" && next) {
      figure(grams(next.add_g), false);
      write(parts.unit, "g to go");
    } else if (view.phase === "finished") {
      figure("kept", true);
      write(parts.unit, "");
    } else {
      figure(view.phase === "looking_for_scale" ? "no scale yet" : view.tared ? "hands off" : "tare", true);
      write(parts.unit, view.phase === "looking_for_scale" ? "is it on?" : "");
    }
    level(isOpen ? guide : null);
  }

  // All there is to say of a brewer whose turn it is not.
  function showStandby(view) {
    const guide = view.guide;
    const next = guide && guide.next;
    const [shown] = parts.figure;
    let text = `${shown.textContent} ${parts.unit[0].textContent}`;
    if (view.links.some((link) => link.loss)) text = "scale lost";
    else if (guide && guide.pour !== undefined) text = view.hidden ? "pouring" : text;
    else if (next) text = [`${grams(next.add_g)} g`, next.in_s === undefined ? REASONS[next.reason] : when(next.in_s)].join(" ");
    one(".standby").textContent = text.trim();
  }

  function flows(guide) {
    return `${guide.flow_g_per_s.toFixed(1)} of ${guide.wanted_flow_g_per_s.toFixed(1)} g/s`;
  }

  function sills(isWaiting, until) {
    if (!isWaiting || until === null || until > SILLS_CLOSE_S) return 0;
    return until <= 0 ? 1 : 1 - until / SILLS_CLOSE_S;
  }

  function showNext(view) {
    const next = view.guide && view.guide.next;
    const isPouring = view.guide && view.guide.pour !== undefined;
    one(".next-word").textContent = next ? (isPouring ? `then pour ${next.pour}` : `pour ${next.pour}`) : "";
    // Between pours the big figure says the grams already.
    one(".next-mass").textContent = next && isPouring ? `${grams(next.add_g)} g` : "";
    one(".next-when").textContent = !next || next.in_s === undefined ? "" : when(next.in_s);
    one(".next-why span").textContent = next ? REASONS[next.reason] : "";
    one(".why-mark path").setAttribute("d", next ? REASON_MARKS[next.reason] : "");
  }

  function when(until) {
    const left = whole(until);
    return left >= 0 ? `in ${left} s` : `${-left} s late`;
  }

  // One thing at a time: what is wrong, what to say, how the last pour went, what to say soon.
  function showRibbon(view, notices) {
    const lost = view.links.find((link) => link.loss);
    const isAlarm = Boolean(lost) || notices.length > 0;
    let text = "";
    if (lost) text = lost.loss.why;
    else if (notices.length > 0) text = notices[0];
    else if (view.phase === "running") text = talk(view) || result(view) || "";
    else if (view.phase === "armed") {
      text = feedback === "blind" ? "blind run: guess first, then see" : "pour when you are ready";
    }
    parts.ribbon.classList.toggle("is-alarm", isAlarm);
    write([parts.ribbon], text);
    parts.ribbon.title = text;
  }

  function talk(view) {
    if (!plan || view.clock_s === undefined) return null;
    for (const mark of plan.talk) {
      const ahead = mark.at_clock_s - view.clock_s;
      if (ahead <= 0 && ahead > -TALK_SHOWN_S) return `say: ${mark.say}`;
      if (ahead > 0 && ahead < TALK_AHEAD_S) return `in ${Math.ceil(ahead)} s say: ${mark.say}`;
    }
    return null;
  }

  function result(view) {
    const ended = view.pours.filter((pour) => pour.end_s !== undefined);
    const last = ended[ended.length - 1];
    if (!last || !view.judged || last !== view.pours[view.pours.length - 1]) return null;
    const judged = view.judged.find((pour) => pour.made.includes(last.index));
    if (!judged) return null;
    const isIn = judged.verdict === "inside";
    const name = judged.planned === undefined ? "a pour nobody planned" : `pour ${judged.planned}`;
    const start = judged.start_error_s ? `, ${signed(judged.start_error_s)} s` : "";
    return `${isIn ? "●" : "◆"} ${name}: ${signed(judged.mass_error_g)} g${start}`;
  }

  function showCue(view) {
    const cues = (view.cues || []).filter((cue) => CUES[cue.kind]);
    const last = cues[cues.length - 1];
    const isFresh = last && view.at_s - last.at_s < CUE_SHOWN_S;
    write(parts.cue, isFresh ? CUES[last.kind] : "");
  }

  // In a blind run the brewer guesses first.
  function askGuess(view) {
    const open = view.pours.find(
      (pour) => pour.end_s !== undefined && pour.estimate_g === undefined && !skipped.has(pour.index));
    const isPouring = view.guide && view.guide.pour !== undefined;
    const isAsking = Boolean(view.hidden && open && view.phase === "running" && !isPouring);
    if (isAsking && seen.guessing !== open.index) {
      seen.guessing = open.index;
      one(".guess-word").textContent = `pour ${open.index}: how much was it, in grams?`;
      one(".guess input").value = "";
    }
    parts.guess.hidden = !isAsking;
  }

  parts.guess.addEventListener("submit", async (event) => {
    event.preventDefault();
    const pour = seen.guessing;
    const poured = Number(one(".guess input").value);
    const refusal = await send("commands", { do: "estimate", lane: lane.number, pour, poured_g: poured });
    if (refusal) one(".guess-word").textContent = refusal;
    else skipped.add(pour);
  });

  return {
    number: lane.number,
    show(view, notices, isTurn) {
      root.classList.toggle("is-turn", isTurn);
      const before = zero;
      zero = view.clock_zero_s ?? null;
      if (before === null && zero !== null) flush();
      showField(view);
      showNext(view);
      showStandby(view);
      showRibbon(view, notices);
      showCue(view);
      askGuess(view);
      course.at(view.clock_s ?? null);
      course.paint();
    },
    // Points come on the recording's clock; before the first water the plan clock is not known.
    addTrace(seconds, masses) {
      waiting.push([seconds, masses]);
      if (zero !== null) flush();
    },
    repaint: () => course.repaint(),
    remove() {
      course.remove();
      root.remove();
    },
  };

  function flush() {
    for (const [seconds, masses] of waiting) {
      const keep = seconds.map((at) => at - zero).map((at, i) => [at, masses[i]]).filter(([at]) => at >= -1);
      course.add(keep.map(([at]) => at), keep.map(([, mass]) => mass));
    }
    waiting.length = 0;
  }
}

function clamp(value, most) {
  return Math.max(-most, Math.min(most, value));
}

function whole(seconds) {
  return seconds >= 0 ? Math.ceil(seconds) : Math.floor(seconds);
}
