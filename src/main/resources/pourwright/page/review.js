// The review page: which runs, what they say together, one run by itself.

import { createSettings } from "/settings.js";

const FEEDBACK = { full: "full guidance", bandwidth: "only when outside", faded: "fading guidance", blind: "blind" };
const KINDS = { mass: "water, g", start: "start, s", flow: "flow, g/s" };
const SOON_MS = 250;

const id = (name) => document.getElementById(name);
const search = id("search");
let which = 0;
let asked = 0;

createSettings();

function element(name, text, className) {
  const made = document.createElement(name);
  if (text !== undefined && text !== null) made.textContent = text;
  if (className) made.className = className;
  return made;
}

function link(text, href, className) {
  const made = element("a", text, className);
  made.href = href;
  return made;
}

// Our own drawing; parsed as XML and put in as elements, never as HTML.
function chart(svg) {
  const figure = element("figure", undefined, "chart");
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  if (parsed.localName === "svg") figure.append(document.importNode(parsed, true));
  return figure;
}

function table(columns, heads, rows) {
  const made = element("table");
  const line = element("tr");
  heads.forEach((head, i) => {
    const cell = element("th", head, columns[i] === "w" ? "words" : undefined);
    cell.scope = "col";
    line.append(cell);
  });
  const top = element("thead");
  top.append(line);
  const body = element("tbody");
  for (const cells of rows) {
    const row = element("tr");
    cells.forEach((cell, i) => row.append(element("td", cell, columns[i] === "w" ? "words" : undefined)));
    body.append(row);
  }
  made.append(top, body);
  const holder = element("div", undefined, "sideways");
  holder.append(made);
  return holder;
}

const signed = (value, digits = 1) => {
  if (value === null || value === undefined) return "–";
  const text = Math.abs(value).toFixed(digits);
  if (Number(text) === 0) return text;
  return (value < 0 ? "−" : "+") + text;
};
const plain = (value, digits = 1) => (value === null || value === undefined ? "–" : value.toFixed(digits));
const percent = (value) => `${Math.round(100 * value)} %`;
const range = (low, high, say) => (low === null ? "" : ` (${say(low)} to ${say(high)})`);
const share = (part) => `${part.successes} of ${part.of} (${Math.round(100 * part.low)} to ${Math.round(100 * part.high)} %)`;

function when(text) {
  return new Date(text).toLocaleString([], { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
}

function trend(series) {
  if (!series.trend || (!series.trend.clear && series.runs < 10)) return "too few runs";
  if (!series.trend.clear) return "none clear";
  return `${signed(series.trend.slope_per_run, 3)} a run`;
}

function showReview(told) {
  const review = told.review;
  const host = element("div");
  if (told.reviews.length > 1) host.append(choice(told.reviews));
  host.append(element("p", review.lesson.sentence || "Nothing was off.", "lesson"));
  if (review.lesson.evidence) host.append(element("p", review.lesson.evidence, "evidence"));

  host.append(element("h2", "Ready?"), chart(told.charts.row));
  review.readiness.say.forEach((sentence) => host.append(element("p", sentence, "said")));

  host.append(element("h2", "Pour by pour"), chart(told.charts.habits), pours(review));
  host.append(element("h2", "Run after run"), chart(told.charts.course));
  const index = review.deviation_index;
  host.append(element("p", `Deviation index ${plain(index.mean, 2)}${range(index.mean_low, index.mean_high, (v) => plain(v, 2))}, trend: ${trend(index)}.`, "said"));
  if (told.charts.corridor) host.append(element("h2", "On the corridor of the plan"), chart(told.charts.corridor));
  if (review.costs.length > 0) {
    host.append(element("h2", "What the deviation comes from"));
    host.append(table("wn", ["cause", "part"], review.costs.slice(0, 6).map((cost) => [cost.say, percent(cost.part)])));
  }
  host.append(element("h2", "Guided and blind"));
  host.append(table("wnn", ["feedback", "runs", "deviation index"], review.feedback.kinds.map((kind) =>
    [kind.say, kind.runs, plain(kind.mean, 2) + range(kind.mean_low, kind.mean_high, (v) => plain(Math.max(0, v), 2))])));
  review.feedback.say.forEach((sentence) => host.append(element("p", sentence, "said")));
  if (review.cup.cups.length > 0 || review.cup.scores.length > 0) host.append(...cup(told));
  if (told.void_runs + told.runs_without_plan > 0) {
    host.append(element("p", `Left out: ${told.void_runs} void, ${told.runs_without_plan} without a plan.`, "evidence"));
  }
  id("review").replaceChildren(host);
  id("title").textContent = `${review.plan}${review.simulated ? ", simulated" : ""}`;
}

function choice(reviews) {
  const host = element("div", undefined, "which-review");
  reviews.forEach((review, i) => {
    const button = element("button", `${review.plan} · ${review.runs}${review.simulated ? " simulated" : ""}`);
    button.type = "button";
    if (i === which) button.setAttribute("aria-current", "true");
    button.addEventListener("click", () => {
      which = i;
      load();
    });
    host.append(button);
  });
  return host;
}

function pours(review) {
  const rows = [];
  for (const pour of review.pours) {
    pour.errors.forEach((error, i) => {
      rows.push([
        i === 0 ? pour.pour : "",
        KINDS[error.of],
        signed(error.mean) + range(error.mean_low, error.mean_high, signed),
        plain(error.scatter) + range(error.scatter_low, error.scatter_high, plain),
        error.within ? share(error.within) : "–",
        error.capability ? plain(error.capability.cpk, 2).replace("-", "−") : "–",
        trend(error),
        error.outliers.length > 0 ? error.outliers.map((run) => `run ${run}`).join(", ") : "–",
      ]);
    });
  }
  const made = table("wwnnnnww", ["pour", "error", "bias", "scatter", "within", "Cpk", "trend", "apart"], rows);
  made.classList.add("is-dense");
  return made;
}

function cup(told) {
  const parts = [element("h2", "In the cup")];
  if (told.charts.cup) {
    parts.push(chart(told.charts.cup));
    parts.push(element("p", "Bars are expanded uncertainties (k = 2). The region is that of the Golden Cup Standard, 23 December 2015: 1.15 to 1.35 %, 18 to 22 %.", "evidence"));
  }
  const cups = told.review.cup;
  if (cups.scores.length > 0) {
    parts.push(table("wnn", ["tasted", "runs", "score"], cups.scores.map((score) =>
      [score.item, score.runs, plain(score.mean) + range(score.mean_low, score.mean_high, plain)])));
  }
  cups.say.forEach((sentence) => parts.push(element("p", sentence, "said")));
  return parts;
}

function showRun(run) {
  const host = element("div");
  host.append(link("all runs together", "#", "print"));
  const facts = [when(run.at), run.brewer, FEEDBACK[run.feedback], run.simulated ? "simulated" : null, run.void ? "void" : null];
  const off = run.judged ? run.judged.filter((pour) => pour.verdict !== "inside").length : 0;
  const verdict = run.judged
    ? `${off === 0 ? "All pours inside" : off === 1 ? "One pour not inside" : `${off} pours not inside`}, deviation index ${plain(run.deviation_index, 2)}.`
    : "This run was held against no plan.";
  host.append(element("p", verdict, "lesson"), element("p", `Run ${run.run} · ${facts.filter(Boolean).join(" · ")}`, "evidence"));
  if (run.corridor) host.append(chart(run.corridor));
  if (run.judged) {
    host.append(element("h2", "Pours"));
    host.append(table("wwnnnw", ["pour", "verdict", "water, g", "start, s", "flow, g/s", "why"], run.judged.map((pour) =>
      [pour.planned ?? "extra", pour.verdict, signed(pour.mass_error_g), signed(pour.start_error_s), signed(pour.flow_error_g_per_s), pour.reasons.join(" ")])));
  }
  if (run.cup) {
    host.append(element("h2", "In the cup"));
    const extraction = run.cup.extraction_pct === null
      ? "the beverage was not weighed"
      : `extraction ${plain(run.cup.extraction_pct)} ± ${plain(2 * run.cup.extraction_u)} %, ${run.cup.place}`;
    host.append(element("p", `Strength ${plain(run.cup.strength_pct, 2)} ± ${plain(2 * run.cup.strength_u, 2)} %, ${extraction}.`, "said"));
  }
  if (run.note) host.append(element("h2", "Note"), element("p", run.note, "note"));
  id("review").replaceChildren(host);
  id("title").textContent = run.plan || "free run";
}

function listRuns(told) {
  const shown = shownRun();
  const items = told.runs.map((run) => {
    const item = element("li");
    const entry = link(undefined, `#run=${run.run}`);
    const name = element("span", `${run.run} · ${when(run.at)}`);
    if (run.void) name.className = "is-void";
    const result = run.planned === null ? "–" : `${run.inside} of ${run.planned}`;
    const less = [run.plan || "free run", FEEDBACK[run.feedback], run.simulated ? "simulated" : null, run.note].filter(Boolean).join(" · ");
    entry.append(name, element("span", result), element("span", less, "less"));
    if (run.run === shown) entry.setAttribute("aria-current", "true");
    item.append(entry);
    return item;
  });
  id("runs").replaceChildren(...items);
  id("more").hidden = !told.more;
  const plans = id("plan");
  const chosen = plans.value;
  plans.replaceChildren(new Option("all", ""), ...told.plans.map((plan) => new Option(plan, plan)));
  plans.value = told.plans.includes(chosen) ? chosen : "";
}

function shownRun() {
  const found = /^#run=(\d+)$/.exec(location.hash);
  return found ? Number(found[1]) : null;
}

function query(more = {}) {
  const given = new URLSearchParams();
  for (const [name, value] of new FormData(search)) if (value) given.set(name, value);
  for (const [name, value] of Object.entries(more)) given.set(name, value);
  return given.toString();
}

async function ask(path) {
  const answer = await fetch(`/api/v1/review/${path}`).catch(() => null);
  if (!answer) throw new Error("The program is not reached. It may have ended.");
  const told = await answer.json().catch(() => ({}));
  if (!answer.ok) throw new Error(told.error || `The program refused (${answer.status}).`);
  return told;
}

async function load() {
  const mine = ++asked;
  const run = shownRun();
  id("trouble").hidden = true;
  id("print").href = run ? `/api/v1/review/run.pdf?run=${run}` : `/api/v1/review/plan.pdf?${query({ review: which })}`;
  try {
    const list = await ask(`runs?${query()}`);
    if (mine !== asked) return;
    listRuns(list);
    const told = run ? await ask(`run?run=${run}`) : await ask(`plan?${query({ review: which })}`);
    if (mine !== asked) return;
    if (run) showRun(told);
    else showReview(told);
  } catch (refused) {
    if (mine !== asked) return;
    id("review").replaceChildren();
    id("trouble").textContent = refused.message;
    id("trouble").hidden = false;
  }
}

let waiting = null;
search.addEventListener("input", () => {
  which = 0;
  clearTimeout(waiting);
  waiting = setTimeout(() => {
    if (location.hash) history.replaceState(null, "", location.pathname);
    load();
  }, SOON_MS);
});
search.addEventListener("submit", (event) => event.preventDefault());
window.addEventListener("hashchange", load);
load();
