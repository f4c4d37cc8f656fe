// Water to brew with: waters and concentrates at hand on this side, what to weigh from the other.

const id = (name) => document.getElementById(name);
const KEY = "pourwright-water";
const PAUSE_MS = 140;
const LONGEST_NAME = 60;
const MOST_WATERS = 12;

// What a water may be said to carry, and what has to be known for that.
const SALT = [["salt_g_per_l", "Salt", "g/L"]];
const CARRIES = {
  nothing: { words: "nothing (distilled)", asks: [] },
  counted: { words: "hardness, alkalinity", asks: [["hardness_mg_per_l", "Hardness", "mg/L"], ["alkalinity_mg_per_l", "Alkalinity", "mg/L"]] },
  label: { words: "what its label says", asks: [["calcium_mg_per_l", "Calcium", "mg/L"], ["magnesium_mg_per_l", "Magnesium", "mg/L"], ["bicarbonate_mg_per_l", "Bicarbonate", "mg/L"]] },
  epsom: { words: "Epsom salt", asks: SALT },
  "calcium-chloride": { words: "calcium chloride", asks: SALT },
  soda: { words: "baking soda", asks: SALT },
  "potassium-bicarbonate": { words: "potassium bicarbonate", asks: SALT },
};

let state = {
  want: "target", hardness_mg_per_l: 70, alkalinity_mg_per_l: 40, batch_g: 1500,
  waters: [
    { name: "tap", carries: "counted", hardness_mg_per_l: 140, alkalinity_mg_per_l: 90 },
    { name: "distilled", carries: "nothing" },
    { name: "hardness concentrate", carries: "epsom", salt_g_per_l: 2.45 },
    { name: "buffer concentrate", carries: "soda", salt_g_per_l: 1.68 },
  ],
};
let asked = 0;
let timer = null;

try {
  state = { ...state, ...JSON.parse(localStorage.getItem(KEY)) };
} catch {
  // a private window remembers nothing
}

function keep() {
  try {
    localStorage.setItem(KEY, JSON.stringify(state));
  } catch {
    // kept for as long as the page is open
  }
  clearTimeout(timer);
  timer = setTimeout(mix, PAUSE_MS);
}

const numberOf = (input) => (input.value === "" ? null : Number(input.value));

function labelled(words, part, unit) {
  const label = document.createElement("label");
  const span = document.createElement("span");
  span.append(part, unit ? ` ${unit}` : "");
  span.classList.toggle("is-wide", !unit);
  label.append(`${words} `, span);
  return label;
}

function ask(water, [field, words, unit]) {
  const input = document.createElement("input");
  Object.assign(input, { type: "number", min: 0, step: "any", value: water[field] ?? "" });
  input.addEventListener("input", () => {
    water[field] = numberOf(input);
    keep();
  });
  return labelled(words, input, unit);
}

function waterRow(water, i) {
  const row = document.createElement("fieldset");
  row.setAttribute("aria-label", `water ${i + 1}`);
  const name = document.createElement("input");
  Object.assign(name, { maxLength: LONGEST_NAME, value: water.name });
  name.addEventListener("input", () => {
    water.name = name.value;
    keep();
  });
  const carries = document.createElement("select");
  carries.append(...Object.entries(CARRIES).map(([value, { words }]) => new Option(words, value)));
  carries.value = water.carries;
  carries.addEventListener("change", () => {
    water.carries = carries.value;
    show();
    id("at-hand").children[i].querySelector("select").focus();
    keep();
  });
  const remove = document.createElement("button");
  Object.assign(remove, { type: "button", textContent: "leave it out" });
  remove.setAttribute("aria-label", `leave water ${i + 1} out`);
  remove.addEventListener("click", () => {
    state.waters.splice(i, 1);
    show();
    keep();
  });
  const asks = state.want === "mix" ? [...CARRIES[water.carries].asks, ["mass_g", "Weighed", "g"]] : CARRIES[water.carries].asks;
  row.append(labelled("Water", name), labelled("Carries", carries), ...asks.map((one) => ask(water, one)), remove);
  return row;
}

function show() {
  for (const radio of document.getElementsByName("want")) radio.checked = radio.value === state.want;
  for (const input of document.querySelectorAll("[data-water]")) input.value = state[input.dataset.water] ?? "";
  id("of-target").hidden = state.want !== "target";
  id("add-water").hidden = state.waters.length >= MOST_WATERS;
  id("at-hand").replaceChildren(...state.waters.map(waterRow));
}

async function mix() {
  const mine = ++asked;
  const answer = await fetch("/api/v1/plan/water", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(state) }).catch(() => null);
  if (mine !== asked) return;
  if (answer && answer.status === 429) {
    keep();
    return;
  }
  const told = answer ? await answer.json() : { error: "The program does not answer; is it still running?" };
  if (mine !== asked) return;
  const problem = told.error || told.problem;
  id("water-says").classList.toggle("is-stuck", Boolean(problem));
  id("weigh").hidden = Boolean(problem);
  if (problem) {
    id("water-says").textContent = told.error || `No water yet: ${problem}`;
    return;
  }
  id("water-says").textContent = `hardness ${told.hardness_mg_per_l.toFixed(0)}, alkalinity ${told.alkalinity_mg_per_l.toFixed(0)} mg/L, ${told.hardness_german_degrees.toFixed(1)} °dH`;
  const rows = [...told.weigh.filter((part) => part.mass_g > 0), { water: "in all", mass_g: told.total_g }];
  id("weigh").tBodies[0].replaceChildren(...rows.map((part) => {
    const row = document.createElement("tr");
    row.insertCell().textContent = part.water;
    row.insertCell().textContent = part.mass_g.toFixed(1);
    return row;
  }));
}

for (const radio of document.getElementsByName("want")) {
  radio.addEventListener("change", () => {
    state.want = radio.value;
    show();
    keep();
  });
}
for (const input of document.querySelectorAll("[data-water]")) {
  input.addEventListener("input", () => {
    state[input.dataset.water] = numberOf(input);
    keep();
  });
}
id("add-water").addEventListener("click", () => {
  state.waters.push({ name: `water ${state.waters.length + 1}`, carries: "counted" });
  show();
  keep();
});
id("water").addEventListener("submit", (event) => event.preventDefault());

show();
mix();
