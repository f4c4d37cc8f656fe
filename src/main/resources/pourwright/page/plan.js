// The plan page: a draft on this side, everything computed on the other.

import { draw } from "/plan-chart.js";
import { createSettings } from "/settings.js";
import { clock, grams } from "/words.js";

const id = (name) => document.getElementById(name);
const KIT_KEY = "pourwright-kit";
const PAUSE_MS = 140;
const SAME_CHANGE_MS = 800;
const CONE = { across_mm: 16, rim_mm: 80 };
const FLAT = { across_mm: 75, rim_mm: 60 };

const settings = createSettings();
let kit = {
  dripper: "cone", ...CONE, kettle_g: 900, fill_g: 600, stays_g: 60, rinse_g: 100, base: false, refills: [], heater_w: 1000,
  loss_w_per_k: 0.6, most_flow_g_per_s: 12, cooler_c: 3, room_c: 21, limit_s: 240, learn: "own",
};
let draft = {
  title: "Trial", dose_g: 20, water_g: 300, temp_c: 93, strength_pct: 1.4, step_g: 1, rig: "whole", mode: "shares",
  shares: { opening_pct: 40, first_g: 50, closing: [1, 1, 1], flow_g_per_s: 6, start: "clock", seconds: 45 },
  pours: [], from: null,
};
let told = null;
let was = null;
let past = [];
let future = [];
let lastChange = { what: null, at: 0 };
let asked = 0;
let timer = null;

try {
  kit = { ...kit, ...JSON.parse(localStorage.getItem(KIT_KEY)) };
} catch {
  // a private window remembers nothing
}
if (kit.refill_g) kit.refills = [{ refill_g: kit.refill_g, refill_s: kit.refill_s, refill_c: kit.refill_c }]; // kept when there was but one
for (const name of ["refill_g", "refill_s", "refill_c"]) delete kit[name];

// --- changes, and the way back

function change(what, how) {
  const now = performance.now();
  if (what !== lastChange.what || now - lastChange.at > SAME_CHANGE_MS) {
    past.push(structuredClone(draft));
    if (past.length > 200) past.shift();
  }
  lastChange = { what, at: now };
  future = [];
  how(draft);
  show(what);
  foreseeSoon();
}

function turn(from, to) {
  if (!from.length) return;
  to.push(structuredClone(draft));
  draft = from.pop();
  lastChange = { what: null, at: 0 };
  show(null);
  foreseeSoon();
}

const undo = () => turn(past, future);
const redo = () => turn(future, past);

function inSteps(g) {
  const step = draft.step_g > 0 ? draft.step_g : 1;
  return Number((Math.round(g / step) * step).toFixed(3));
}

const openingOf = (d) => inSteps((d.water_g * d.shares.opening_pct) / 100);

// The first pour keeps its part of the opening when the opening changes.
function scaled(d, how) {
  const part = d.shares.first_g / Math.max(1e-9, openingOf(d));
  how();
  d.shares.first_g = Math.min(openingOf(d), Math.max(d.step_g, inSteps(part * openingOf(d))));
}

function set(field, value) {
  change(field, (d) => {
    if (field === "dose_g") {
      const ratio = d.water_g / d.dose_g;
      scaled(d, () => {
        d.dose_g = value;
        if (d.mode === "shares") d.water_g = inSteps(value * ratio);
      });
    } else if (field === "water_g") {
      scaled(d, () => { d.water_g = value; });
    } else {
      d[field] = value;
    }
  });
}

function setShare(field, value) {
  change(field, (d) => {
    if (field === "opening_pct") scaled(d, () => { d.shares.opening_pct = value; });
    else d.shares[field] = value;
    if (field === "start") d.shares.seconds = value === "gap" ? 30 : 45;
  });
}

function setRatio(ratio) {
  change("ratio", (d) => {
    if (d.mode === "shares") {
      scaled(d, () => { d.water_g = inSteps(d.dose_g * ratio); });
    } else {
      const sum = d.pours.reduce((all, pour) => all + pour.add_g, 0);
      const want = d.dose_g * ratio;
      d.pours.forEach((pour) => { pour.add_g = inSteps((pour.add_g * want) / sum); });
    }
  });
}

function setMode(mode) {
  change("mode", (d) => {
    if (mode === "pours" && told && told.plan) d.pours = told.plan.pours.map(asTyped);
    d.mode = mode;
  });
}

function asTyped(pour, i, all) {
  const before = i ? all[i - 1] : null;
  return {
    add_g: pour.add_g,
    flow_g_per_s: pour.flow_g_per_s,
    start: pour.begins,
    seconds: pour.begins === "gap" ? Number((pour.start_s - before.end_s).toFixed(1)) : pour.start_s,
  };
}

// --- showing the draft

function put(input, value) {
  if (input === document.activeElement && input.type !== "range" && Number(input.value) === value) return;
  input.value = value ?? "";
}

function show(what) {
  for (const input of document.querySelectorAll("[data-field]")) put(input, draft[input.dataset.field]);
  for (const input of document.querySelectorAll("[data-text]")) put(input, draft[input.dataset.text]);
  for (const input of document.querySelectorAll("[data-share]")) put(input, draft.shares[input.dataset.share]);
  id("first-range").max = Math.max(1, openingOf(draft));
  put(id("first-range"), draft.shares.first_g);
  const water = draft.mode === "shares" ? draft.water_g : draft.pours.reduce((all, pour) => all + pour.add_g, 0);
  if (what !== "ratio") put(id("ratio"), Number((water / draft.dose_g).toFixed(2)));
  put(id("closing-count"), draft.shares.closing.length);
  if (what !== "split") id("closing-split").value = draft.shares.closing.join(":");
  for (const radio of document.getElementsByName("mode")) {
    radio.checked = radio.value === draft.mode;
    radio.disabled = !told; // the pours to begin with come with the first answer
  }
  for (const part of document.querySelectorAll(".of-shares")) part.hidden = draft.mode !== "shares";
  document.querySelector(".of-pours").hidden = draft.mode !== "pours";
  showPours();
  id("undo").disabled = !past.length;
  id("redo").disabled = !future.length;
}

function showKit() {
  for (const input of document.querySelectorAll("[data-kit]")) {
    if (input.type === "checkbox") input.checked = kit[input.dataset.kit];
    else put(input, kit[input.dataset.kit]);
  }
  id("across-word").textContent = kit.dripper === "cone" ? "Outlet across" : "Bottom across";
  id("learn").value = kit.learn;
  showRefills();
}

const MOST_REFILLS = 12;
const REFILL = [["refill_g", "grams", 10], ["refill_s", "seconds", 5], ["refill_c", "degrees", 1]];

function showRefills() {
  const body = id("refills").tBodies[0];
  id("refills").hidden = !kit.refills.length;
  id("add-refill").hidden = kit.refills.length >= MOST_REFILLS;
  while (body.rows.length > kit.refills.length) body.lastChild.remove();
  while (body.rows.length < kit.refills.length) body.append(refillRow(body.rows.length));
  kit.refills.forEach((refill, i) => {
    body.rows[i].querySelectorAll("input").forEach((input, j) => put(input, refill[REFILL[j][0]]));
  });
}

function refillRow(i) {
  const row = document.createElement("tr");
  const inputs = REFILL.map(([field, word, step]) => numberInput(`${word} of refill ${i + 1}`, step, (value) => {
    kit.refills[i][field] = value;
    keepKit();
  }));
  fillRow(row, [...inputs, removeButton(`remove refill ${i + 1}`, () => {
    kit.refills.splice(i, 1);
    keepKit();
  })]);
  return row;
}

function addRefill() {
  const last = kit.refills[kit.refills.length - 1];
  kit.refills.push(last ? { ...last, refill_s: last.refill_s + 60 } : { refill_g: 200, refill_s: 90, refill_c: 95 });
  keepKit();
}

const RULES = [["clock", "at"], ["gap", "after"], ["drained", "drained"]];

function showPours() {
  const body = id("pours").tBodies[0];
  while (body.rows.length > draft.pours.length) body.lastChild.remove();
  while (body.rows.length < draft.pours.length) body.append(pourRow(body.rows.length));
  draft.pours.forEach((pour, i) => {
    const [add, flow, rule, seconds] = body.rows[i].querySelectorAll("input, select");
    put(add, pour.add_g);
    put(flow, pour.flow_g_per_s);
    rule.value = pour.start;
    rule.disabled = i === 0;
    put(seconds, pour.seconds);
  });
}

function numberInput(label, step, onNumber) {
  const input = document.createElement("input");
  Object.assign(input, { type: "number", min: 0, step });
  input.setAttribute("aria-label", label);
  input.addEventListener("input", () => {
    if (input.value !== "") onNumber(Number(input.value));
  });
  return input;
}

function removeButton(label, onClick) {
  const remove = document.createElement("button");
  remove.type = "button";
  remove.textContent = "×";
  remove.setAttribute("aria-label", label);
  remove.addEventListener("click", onClick);
  return remove;
}

function fillRow(row, parts) {
  row.append(...parts.map((part) => {
    const cell = document.createElement("td");
    cell.append(part);
    return cell;
  }));
}

function pourRow(i) {
  const row = document.createElement("tr");
  const number = (field, label, step) =>
    numberInput(`${label} of pour ${i + 1}`, step, (value) => change(`${field}${i}`, (d) => { d.pours[i][field] = value; }));
  const rule = document.createElement("select");
  rule.setAttribute("aria-label", `start of pour ${i + 1}`);
  rule.append(...RULES.map(([value, word]) => new Option(word, value)));
  rule.addEventListener("change", () => change(`rule${i}`, (d) => { d.pours[i].start = rule.value; }));
  const remove = removeButton(`remove pour ${i + 1}`, () =>
    change("remove", (d) => { d.pours.splice(i, 1); if (d.pours.length) Object.assign(d.pours[0], { start: "clock", seconds: 0 }); }));
  fillRow(row, [String(i + 1), number("add_g", "grams", 1), number("flow_g_per_s", "flow", 0.1), rule, number("seconds", "seconds", 1), remove]);
  return row;
}

function addPour() {
  change("add", (d) => {
    const last = d.pours[d.pours.length - 1];
    d.pours.push(last
      ? { ...last, start: last.start === "clock" && d.pours.length === 1 ? "gap" : last.start, seconds: last.start === "gap" || d.pours.length === 1 ? 30 : last.seconds + 45 }
      : { add_g: 60, flow_g_per_s: 6, start: "clock", seconds: 0 });
  });
}

// --- asking, and showing the answer

function body(more) {
  const { learn, ...made } = kit;
  const sent = {
    title: draft.title, dose_g: draft.dose_g, temp_c: draft.temp_c, strength_pct: draft.strength_pct, rig: draft.rig,
    step_g: draft.step_g, from: draft.from, kit: made, learn, ...more,
  };
  if (draft.mode === "shares") Object.assign(sent, { water_g: draft.water_g, shares: draft.shares });
  else sent.pours = draft.pours;
  return JSON.stringify(sent);
}

async function post(what, text) {
  const answer = await fetch(`/api/v1/plan/${what}`, { method: "POST", headers: { "Content-Type": "application/json" }, body: text }).catch(() => null);
  if (!answer) return { status: 0, json: { error: "The program does not answer; is it still running?" } };
  return { status: answer.status, json: await answer.json() };
}

function foreseeSoon() {
  clearTimeout(timer);
  timer = setTimeout(foresee, PAUSE_MS);
}

async function foresee() {
  const mine = ++asked;
  const { status, json } = await post("foresee", body({ was }));
  if (mine !== asked) return;
  if (status === 429) {
    foreseeSoon();
    return;
  }
  const problems = json.error ? [json.error] : json.problems;
  document.body.classList.toggle("is-stuck", problems.length > 0);
  id("summary").classList.toggle("is-stuck", problems.length > 0);
  id("save").disabled = problems.length > 0;
  if (problems.length) {
    id("summary").textContent = `No plan yet: ${problems.join("; ")}`;
    return;
  }
  const isFirst = !told;
  told = json;
  if (isFirst) show(null);
  if (!was) was = json.scheme;
  id("text").textContent = json.text;
  showAnswer();
}

function showAnswer() {
  const { plan, forecast } = told;
  id("summary").textContent = `${plan.pours.map((pour) => grams(pour.add_g, pour.add_g % 1 ? 1 : 0)).join(" + ")} = ${grams(plan.water_g, plan.water_g % 1 ? 1 : 0)} g on ${grams(plan.dose_g, plan.dose_g % 1 ? 1 : 0)} g, 1 : ${plan.ratio.toFixed(1)}`;
  redraw();
  const list = id("troubles");
  const items = [
    ...told.warnings.map((words) => ({ words })),
    ...forecast.troubles.map((trouble) => ({ pour: trouble.pour, words: `${trouble.says}; ${trouble.fix}` })),
  ];
  list.replaceChildren(...items.map((item) => {
    const entry = document.createElement("li");
    const head = document.createElement("b");
    head.textContent = item.pour ? `pour ${item.pour} ` : "note ";
    entry.append(head, item.words);
    return entry;
  }));
  if (!items.length) {
    const clear = document.createElement("li");
    clear.className = "is-clear";
    clear.textContent = "Nothing.";
    list.append(clear);
  }
  id("count").hidden = !items.length;
  id("count").textContent = `${items.length} in its way`;
  cup(forecast);
}

function range(estimate, digits) {
  return `${estimate.value.toFixed(digits)} ± ${estimate.uncertainty.toFixed(digits)}`;
}

function cup(forecast) {
  const basis = forecast.basis;
  const values = [
    ["beverage", `${range(forecast.beverage_g, 0)} g`],
    forecast.extraction_pct && ["extraction", `${range(forecast.extraction_pct, 1)} % for the strength aimed at`],
    forecast.strength_pct && ["strength", `${range(forecast.strength_pct, 2)} %, by your past extraction`],
    ["water in all", `${forecast.water.total_g.toFixed(0)} g, with rinse and rest`],
    ["drain times", basis.drain_times === "guess" ? "a guess until your runs show the outflow" : `from ${basis.drained_moments} of your drained moments`],
  ].filter(Boolean);
  id("cup-values").replaceChildren(...values.flatMap(([name, value]) => {
    const term = document.createElement("dt");
    term.textContent = name;
    const said = document.createElement("dd");
    said.textContent = value;
    return [term, said];
  }));
  id("against").hidden = !told.cup.length;
  id("rebase").hidden = !told.cup.length;
  id("cup").replaceChildren(...told.cup.map((words) => {
    const entry = document.createElement("li");
    entry.textContent = words;
    return entry;
  }));
}

function redraw() {
  if (told) draw(id("drawing"), told, { rimMillimetres: kit.rim_mm, limitSeconds: kit.limit_s, coolerCelsius: kit.cooler_c });
}

// --- keeping

async function save(isReplacing) {
  const name = id("name").value.trim();
  const { status, json } = await post("save", body({ name, replace: isReplacing }));
  id("replace").hidden = status !== 409;
  if (status !== 200) {
    id("kept").textContent = json.error;
    return;
  }
  draft.from = json.name;
  was = told.scheme;
  id("kept").textContent = `Kept: ${json.file}`;
  listPlans();
  foreseeSoon();
}

async function listPlans() {
  const answer = await fetch("/api/v1/plan/list").catch(() => null);
  const names = answer && answer.ok ? await answer.json() : [];
  id("open").replaceChildren(new Option("a saved plan", ""), ...names.map((name) => new Option(name, name)));
}

async function openPlan(name) {
  const answer = await fetch(`/api/v1/plan/open?name=${encodeURIComponent(name)}`).catch(() => null);
  const plan = answer ? await answer.json() : { error: "The program does not answer." };
  if (plan.error) {
    id("kept").textContent = plan.error;
    return;
  }
  was = null;
  id("name").value = name;
  change("open", (d) => {
    Object.assign(d, { temp_c: null, strength_pct: null }, plan, { mode: "pours" });
  });
}

// --- the hand

for (const input of document.querySelectorAll("[data-field]")) {
  input.addEventListener("input", () => {
    const isEmpty = input.value === "";
    const mayBeEmpty = ["temp_c", "strength_pct"].includes(input.dataset.field);
    if (!isEmpty || mayBeEmpty) set(input.dataset.field, isEmpty ? null : Number(input.value));
  });
}
for (const input of document.querySelectorAll("[data-text]")) {
  input.addEventListener("input", () => set(input.dataset.text, input.value));
}
for (const input of document.querySelectorAll("[data-share]")) {
  input.addEventListener("input", () => {
    if (input.value !== "") setShare(input.dataset.share, input.dataset.share === "start" ? input.value : Number(input.value));
  });
}
for (const input of document.querySelectorAll("[data-kit]")) {
  input.addEventListener("input", () => {
    const name = input.dataset.kit;
    if (input.type !== "checkbox" && input.value === "") return;
    kit[name] = input.type === "checkbox" ? input.checked : name === "dripper" ? input.value : Number(input.value);
    if (name === "dripper") Object.assign(kit, kit.dripper === "cone" ? CONE : FLAT);
    keepKit();
  });
}
id("learn").addEventListener("change", () => {
  kit.learn = id("learn").value;
  keepKit();
});

function keepKit() {
  try {
    localStorage.setItem(KIT_KEY, JSON.stringify(kit));
  } catch {
    // kept for as long as the page is open
  }
  showKit();
  foreseeSoon();
}

id("ratio").addEventListener("input", () => {
  if (id("ratio").value !== "") setRatio(Number(id("ratio").value));
});
id("closing-count").addEventListener("input", () => {
  const count = Number(id("closing-count").value);
  if (id("closing-count").value !== "" && Number.isInteger(count) && count >= 0 && count <= 12) {
    change("closing", (d) => {
      d.shares.closing = Array(count).fill(1);
      if (count === 0) d.shares.opening_pct = 100;
      else if (d.shares.opening_pct === 100) d.shares.opening_pct = 40;
    });
  }
});
id("closing-split").addEventListener("input", () => {
  const parts = id("closing-split").value.split(":").map(Number);
  const isWrong = id("closing-split").value.trim() === "" || parts.some((part) => !(part > 0)) || parts.length > 12;
  id("closing-split").classList.toggle("is-wrong", isWrong);
  if (!isWrong) change("split", (d) => { d.shares.closing = parts; });
});
for (const radio of document.getElementsByName("mode")) radio.addEventListener("change", () => setMode(radio.value));
id("add-pour").addEventListener("click", addPour);
id("add-refill").addEventListener("click", addRefill);
id("undo").addEventListener("click", undo);
id("redo").addEventListener("click", redo);
id("rebase").addEventListener("click", () => {
  was = told.scheme;
  foreseeSoon();
});
id("open").addEventListener("change", () => {
  if (id("open").value) openPlan(id("open").value);
  id("open").value = "";
});
id("recipe").addEventListener("submit", (event) => {
  event.preventDefault();
  save(false);
});
id("replace").addEventListener("click", () => save(true));
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  if (key !== "z" && key !== "y") return;
  if (event.target.matches("input:not([type=number], [type=range], [type=radio], [type=checkbox]), textarea")) return;
  event.preventDefault();
  if (key === "y" || event.shiftKey) redo();
  else undo();
});
settings.onChange(redraw);
new ResizeObserver(redraw).observe(id("drawing"));

showKit();
show(null);
listPlans();
foresee();
