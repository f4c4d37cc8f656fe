// The check of a scale: what to do now, what came of it, and whether the scale is good enough.

import { createSettings } from "/settings.js";

const ASK_AGAIN_MS = 150;
const LOST_AFTER = 8;
const STAGES = {
  waiting: "waiting for you",
  settling: "comes to rest",
  measuring: "measuring, hands off",
  undoing: "put it right first",
  blind: "no readings",
  done: "done",
};
const TROUBLES = new Set(["touched", "wrong", "unsteady", "lost", "back"]);
const MARKS = { pass: "●", borderline: "◐", fail: "▲", "not known": "–" };
const BEAT_HZ = [660, 660, 990];

createSettings();

const id = (name) => document.getElementById(name);
let missed = 0;
let told = false;
let counted = null;
let context = null;

function element(name, text, className) {
  const made = document.createElement(name);
  if (text !== undefined && text !== null) made.textContent = text;
  if (className) made.className = className;
  return made;
}

// Browsers let a page sound only after it was touched once; the squares count without it too.
function wake() {
  context ??= new AudioContext({ latencyHint: "interactive" });
  if (context.state === "suspended") context.resume();
}
addEventListener("pointerdown", wake);
addEventListener("keydown", wake);

function beat(hz, inSeconds) {
  if (context === null || context.state !== "running" || inSeconds < 0) return;
  const at = context.currentTime + inSeconds;
  const tone = context.createOscillator();
  const envelope = context.createGain();
  tone.frequency.value = hz;
  envelope.gain.setValueAtTime(0, at);
  envelope.gain.linearRampToValueAtTime(0.4, at + 0.005);
  envelope.gain.exponentialRampToValueAtTime(0.001, at + 0.15);
  tone.connect(envelope).connect(context.destination);
  tone.start(at);
  tone.stop(at + 0.2);
}

// The three beats are set as soon as the count is known, so that they come on time.
function count(view) {
  const counting = view.to_beat_s > -0.8 && view.to_beat_s > 0 || view.beat === 3 && view.to_beat_s > -0.8;
  id("beats").hidden = !counting;
  [...id("beats").children].forEach((square, i) => square.classList.toggle("is-over", i < view.beat));
  if (!counting) {
    counted = null;
  } else if (counted !== view.step) {
    counted = view.step;
    BEAT_HZ.forEach((hz, i) => beat(hz, view.to_beat_s - (2 - i)));
  }
}

function guide(view) {
  const section = id("guide");
  section.hidden = view.stage === "done";
  section.dataset.stage = view.stage;
  id("part").textContent = view.part;
  id("finds").textContent = `finds ${view.finds}`;
  if (id("ask").textContent !== view.words) id("ask").textContent = view.words;
  id("weight").textContent = `${view.shown_g.toFixed(2)} g`;
  id("stage").textContent =
    STAGES[view.stage] + (view.seconds_left > 0 ? `, ${view.seconds_left} s left` : "");
  id("progress").max = view.steps;
  id("progress").value = view.step - 1;
  const lines = view.said.filter((one) => one.kind !== "ask").slice(-6).reverse();
  id("said").replaceChildren(
    ...lines.map((one) => element("li", one.text, TROUBLES.has(one.kind) ? "is-trouble" : undefined)));
  count(view);
}

const DIGITS = { maximumSignificantDigits: 6, useGrouping: false };

function places(figure) {
  const half = (figure.high - figure.low) / 2;
  return half === 0 ? 2 : Math.max(0, Math.min(4, 1 - Math.floor(Math.log10(half))));
}

function number(figure, key) {
  const text = figure[key].toFixed(places(figure));
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text.replace("-", "−");
}

function interval(figure) {
  return figure.low === figure.high ? "exact" : `${number(figure, "low")} to ${number(figure, "high")}`;
}

function table(heads, columns, rows) {
  const made = element("table");
  const top = element("tr");
  heads.forEach((head, i) => {
    const cell = element("th", head, columns[i] === "w" ? "words" : undefined);
    cell.scope = "col";
    top.append(cell);
  });
  const head = element("thead");
  head.append(top);
  const body = element("tbody");
  for (const cells of rows) {
    const row = element("tr");
    cells.forEach((cell, i) => row.append(element("td", cell, columns[i] === "w" ? "words" : undefined)));
    body.append(row);
  }
  made.append(head, body);
  const holder = element("div", undefined, "sideways");
  holder.append(made);
  return holder;
}

function grade(item) {
  const line = element("li");
  line.dataset.grade = item.grade;
  line.append(element("span", MARKS[item.grade], "mark"), element("b", item.name));
  line.append(element("span", `${item.grade}: ${item.finding}`, "finding"));
  if (item.advice) line.append(element("span", item.advice, "advice"));
  return line;
}

// Our own drawing; parsed as XML and put in as elements, never as HTML.
function chart(svg) {
  const figure = element("figure", undefined, "chart");
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  if (parsed.localName === "svg") figure.append(document.importNode(parsed, true));
  return figure;
}

function outcome(found) {
  const article = id("outcome");
  const verdict = found.verdict;
  article.replaceChildren();
  article.append(element("p", `${MARKS[verdict.overall]} ${verdict.overall} for ${verdict.for}`, "overall"));
  article.append(element("p", `${found.scale}, ${found.at.slice(0, 16).replace("T", " ")} UTC`));
  const print = element("a", "print on one page", "print");
  print.href = "/api/v1/check/pdf";
  article.append(print);
  const grades = element("ul", undefined, "grades");
  grades.append(...verdict.items.map(grade));
  article.append(element("h2", "Good enough?"), grades);
  if (verdict.overshoots.length) {
    article.append(
      element("h2", "Poured too much when stopping by the figure"),
      table(["flow, g/s", "too much, g", "known to, ± g"], "nnn",
        verdict.overshoots.map((one) =>
          [one.flow_g_per_s.toFixed(1), one.by_lag_g.toFixed(1), one.left_g.toFixed(1)])));
  }
  if (found.chart) {
    article.append(element("h2", "Shown less true weight, in what class III allows in use"), chart(found.chart));
    article.append(element("p", verdict.yardstick));
  }
  article.append(
    element("h2", "Figures"),
    table(["", "value", "95 % interval", "unit", ""], "wnnww",
      found.figures.map((one) => [one.name, number(one, "value"), interval(one), one.unit, one.note])));
  const changed = found.changes.filter((one) => one.changed);
  if (found.changes.length) {
    article.append(element("h2", "Since the check before"));
    article.append(changed.length
      ? table(["", "before", "now", "unit"], "wnnw",
        changed.map((one) => [one.name, one.before.toLocaleString("en", DIGITS), one.now.toLocaleString("en", DIGITS), one.unit]))
      : element("p", "Nothing changed beyond what both checks can tell."));
  }
  found.notes.forEach((note) => article.append(element("p", note)));
  article.append(element("p", "A user check, not a legal verification.", "legal"));
  article.hidden = false;
}

async function showKept() {
  const answer = await fetch("/api/v1/check/kept");
  if (!answer.ok) return;
  const { scales } = await answer.json();
  id("kept").hidden = scales.length === 0;
  const brief = (check, key) => {
    const figure = check.figures.find((one) => one.key === key);
    return figure ? `${number(figure, "value")} ${figure.unit}` : "–";
  };
  id("kept-list").replaceChildren(
    table(["scale", "last checked", "noise", "repeatability", "lag"], "wwnnn",
      scales.map((check) => [check.scale, check.at.slice(0, 10), brief(check, "noise_g"),
        brief(check, "repeatability_g"), brief(check, "lag_s")])));
}

async function askNow() {
  try {
    const answer = await fetch("/api/v1/check");
    if (answer.status === 404) {
      id("none").hidden = false;
      return;
    }
    const now = await answer.json();
    missed = 0;
    id("none").hidden = Boolean(now.view || now.outcome);
    if (now.view && !now.outcome) guide(now.view);
    if (now.outcome && !told) {
      told = true;
      id("guide").hidden = true;
      outcome(now.outcome);
      await showKept();
    }
    if (!now.view && !now.outcome) return;
  } catch {
    missed++;
  }
  id("lost").hidden = missed < LOST_AFTER || told;
  setTimeout(askNow, told ? 1000 : ASK_AGAIN_MS);
}

showKept().catch(() => {});
askNow();
