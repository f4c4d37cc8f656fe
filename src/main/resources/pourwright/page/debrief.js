// After the run: the one thing to work on, every pour against its plan, the curve, the cup.

import { createCourse } from "/course.js";
import { VERDICTS, grams, signed } from "/words.js";
import { send } from "/stream.js";

// Left out where there is no room for them.
const ROOMY = ["in tolerances", "flow"];

const SVG = "http://www.w3.org/2000/svg";
let courses = [];
let shown = null;

function element(name, text, className) {
  const made = document.createElement(name);
  if (text !== undefined) made.textContent = text;
  if (className) made.className = className;
  return made;
}

export function showDebrief(host, run, outcome) {
  // An afterword comes back as a new outcome; what is being typed must not vanish.
  const news = JSON.stringify({ ...outcome, afterwords: null });
  if (shown === news && host.childElementCount > 0) return;
  shown = news;
  courses.forEach((course) => course.remove());
  courses = [];
  host.replaceChildren();
  host.append(element("p", outcome.work_on || "The run is kept.", "work-on"));
  host.append(element("p", facts(outcome), "facts"));
  for (const lane of outcome.lanes) host.append(laneSection(run, outcome, lane));
  host.tabIndex = -1;
  host.focus({ preventScroll: true });
}

const ENDINGS = {
  lifted: "ended at the lift",
  stopped: "ended by hand",
  source_ended: "the recording ended",
  idle: "ended after a long rest",
};

function facts(outcome) {
  const parts = [ENDINGS[outcome.why], `${Math.round(outcome.length_s)} s recorded`];
  if (outcome.void) parts.push("void: does not count");
  return parts.join(" · ");
}

function laneSection(run, outcome, lane) {
  const start = run.lanes[lane.number - 1];
  const section = element("section");
  const title = [run.lanes.length > 1 ? start.brewer : null, start.plan ? start.plan.title : "free run"];
  section.append(element("h2", title.filter(Boolean).join(": ")));
  if (lane.hidden) {
    section.append(guesses(lane));
    return section;
  }
  const left = element("div");
  left.append(start.plan && lane.judged ? plannedTable(start.plan, lane) : plainTable(lane));
  left.append(summary(lane));
  const right = element("div");
  const course = element("div", undefined, "course");
  course.setAttribute("role", "img");
  course.setAttribute("aria-label", "poured water over the planned corridor");
  right.append(course, afterword(outcome, lane));
  section.append(left, right);
  requestAnimationFrame(() => drawCourse(course, start.plan, lane));
  return section;
}

function drawCourse(host, plan, lane) {
  if (!host.isConnected) return;
  const course = createCourse(host, plan || null, false);
  courses.push(course);
  if (lane.curve && lane.clock_zero_s !== undefined) {
    const seconds = [];
    const masses = [];
    lane.curve.s.forEach((at, i) => {
      const clock = at - lane.clock_zero_s;
      if (clock >= -1) {
        seconds.push(clock);
        masses.push(lane.curve.g[i]);
      }
    });
    course.add(seconds, masses);
  }
  course.repaint();
}

function row(cells, kind = "td") {
  const line = element("tr");
  for (const cell of cells) {
    if (cell instanceof Node) {
      const holder = element(kind);
      if (cell.classList.contains("roomy")) holder.className = "roomy";
      holder.append(cell);
      line.append(holder);
    } else {
      line.append(element(kind, cell));
    }
  }
  return line;
}

function head(names) {
  const part = element("thead");
  const line = element("tr");
  for (const name of names) {
    const cell = element("th", name, ROOMY.includes(name) ? "roomy" : undefined);
    cell.scope = "col";
    line.append(cell);
  }
  part.append(line);
  return part;
}

function plannedTable(plan, lane) {
  const hasGuess = lane.pours.some((pour) => pour.estimate_g !== undefined);
  const table = element("table");
  table.append(head(["pour", "planned", "poured", hasGuess ? "guess" : null, "off by", "in tolerances", "start", "flow", "verdict"]
    .filter((name) => name !== null)));
  const body = element("tbody");
  for (const judged of lane.judged) {
    const planned = judged.planned === undefined ? null : plan.pours[judged.planned - 1];
    const made = lane.pours.filter((pour) => judged.made.includes(pour.index));
    const poured = made.reduce((sum, pour) => sum + pour.poured_g, 0);
    const guess = made.map((pour) => pour.estimate_g).filter((value) => value !== undefined);
    const line = row([
      planned ? String(judged.planned) : "–",
      planned ? `${grams(planned.add_g)} g` : "–",
      made.length ? `${grams(poured, 1)} g` : "–",
      ...(hasGuess ? [guess.length ? `${grams(guess.reduce((a, b) => a + b, 0), 1)} g` : "–"] : []),
      `${signed(judged.mass_error_g)} g`,
      deviation(judged.mass_error_g / plan.tolerance.mass_g, `${signed(judged.mass_error_g)} g`),
      judged.start_error_s === undefined ? "–" : `${signed(judged.start_error_s)} s`,
      element("span", judged.flow_error_g_per_s === undefined ? "–" : `${signed(judged.flow_error_g_per_s)} g/s`, "roomy"),
      verdict(judged),
    ]);
    body.append(line);
    if (judged.reasons.length > 0) {
      line.className = "has-reason";
      const why = element("tr");
      why.append(element("td", ""));
      const cell = element("td", judged.reasons.join("; "), "reason");
      cell.colSpan = hasGuess ? 8 : 7;
      why.append(cell);
      body.append(why);
    }
  }
  table.append(body);
  return table;
}

function plainTable(lane) {
  const table = element("table");
  table.append(head(["pour", "poured", "flow"]));
  const body = element("tbody");
  for (const pour of lane.pours) {
    body.append(row([String(pour.index), `${grams(pour.poured_g, 1)} g`, `${pour.flow_g_per_s.toFixed(1)} g/s`]));
  }
  table.append(body);
  return table;
}

function verdict(judged) {
  const isIn = judged.verdict === "inside";
  return element("span", VERDICTS[judged.verdict], `verdict ${isIn ? "is-in" : "is-off"}`);
}

// A strip of three tolerances to either side; inside lies in the band, outside is a diamond.
function deviation(tolerances, label) {
  const isOff = Math.abs(tolerances) > 1;
  const at = Math.max(-2.8, Math.min(2.8, tolerances));
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("class", "deviation roomy");
  svg.setAttribute("viewBox", "-3 -0.5 6 1");
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", label);
  const band = shape("rect", { class: "band", x: -1, y: -0.5, width: 2, height: 1 });
  const zero = shape("path", { class: "zero", d: "M0-.5v1M-3 0h6", "stroke-width": 0.04 });
  const dot = isOff
    ? shape("path", { class: "dot is-off", d: `M${at}-.42l.42.42-.42.42-.42-.42z` })
    : shape("circle", { class: "dot", cx: at, cy: 0, r: 0.28 });
  svg.append(band, zero, dot);
  return svg;
}

function shape(name, attributes) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function summary(lane) {
  const parts = [];
  if (lane.deviation_index !== undefined) {
    parts.push(`deviation index ${lane.deviation_index.toFixed(2)} (0 is the plan to the drop, 1 is everywhere at its tolerances)`);
  }
  if (lane.lift && lane.lift.beverage_g !== undefined) parts.push(`${grams(lane.lift.beverage_g, 1)} g in the server`);
  const measured = (lane.drawdowns || []).filter((one) => one.basis !== "bounded");
  if (measured.length > 0) {
    parts.push(`bed dry after ${measured.map((one) => `${Math.round(one.end_s - one.start_s)} s`).join(", ")}`);
  }
  const box = element("div", undefined, "facts");
  for (const part of [...parts, ...(lane.warnings || [])]) box.append(element("p", part));
  return box;
}

// Before the truth: the brewer's own guess for every pour that has none yet.
function guesses(lane) {
  const form = element("form", undefined, "afterword");
  form.append(element("p", "Guess first, then see."));
  const open = lane.pours.filter((pour) => pour.estimate_g === undefined);
  const inputs = open.map((pour) => {
    const label = element("label", `pour ${pour.index}, in grams`);
    const input = element("input");
    Object.assign(input, { type: "number", min: "0", max: "2000", step: "0.1", inputMode: "decimal" });
    label.append(input);
    form.append(label);
    return [pour.index, input];
  });
  const said = element("p", "");
  said.setAttribute("role", "status");
  const keep = element("button", "keep my guesses", "primary");
  keep.type = "submit";
  const skip = element("button", "show me without guessing");
  skip.type = "button";
  skip.addEventListener("click", async () => {
    said.textContent = (await send("reveal", {})) || "";
  });
  form.append(keep, skip, said);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    for (const [pour, input] of inputs) {
      if (input.value !== "") {
        const refusal = await send("commands", {
          do: "estimate", lane: lane.number, pour, poured_g: Number(input.value),
        });
        if (refusal) {
          said.textContent = refusal;
          return;
        }
      }
    }
  });
  return form;
}

function afterword(outcome, lane) {
  const known = outcome.afterwords.find((one) => one.lane === lane.number) || {};
  const form = element("form", undefined, "afterword");
  const strength = element("label", "strength of the cup, % by mass");
  const reading = element("input");
  Object.assign(reading, { type: "number", min: "0", max: "20", step: "0.01", inputMode: "decimal" });
  reading.value = known.strength_pct ?? "";
  strength.append(reading);
  const note = element("label", "note");
  const text = element("textarea");
  Object.assign(text, { rows: 3, maxLength: 2000 });
  text.value = known.note ?? "";
  note.append(text);
  const said = element("p", "");
  said.setAttribute("role", "status");
  const keep = element("button", "keep with the run", "primary");
  keep.type = "submit";
  form.append(strength, note, keep, said);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const refusal = await send("afterword", {
      lane: lane.number,
      strength_pct: reading.value === "" ? null : Number(reading.value),
      note: text.value === "" ? null : text.value,
    });
    said.textContent = refusal || "kept";
  });
  return form;
}
