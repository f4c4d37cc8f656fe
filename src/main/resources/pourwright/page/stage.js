// The stage page: the timetable of a routine, and its clock while it is run.

import { createSettings } from "/settings.js";
import { createSound } from "/sound.js";
import { listen, send } from "/stream.js";
import { clock as words } from "/words.js";

const SVG = "http://www.w3.org/2000/svg";
const LOOK_MS = 500;
const SOON_S = 5;
const REFUSAL_MS = 6000;

const id = (name) => document.getElementById(name);
const settings = createSettings();
const sound = createSound(settings);
let plan = null;
let told = { running: false };
let toldAt = 0;
let played = -1;
let hand = null;
let scale = null;
let live = null; // the newest view of the scales, while they lead the clock
let isListening = false;
let refusedAt = -REFUSAL_MS;

function element(name, text, className) {
  const made = document.createElement(name);
  if (text !== undefined && text !== null) made.textContent = text;
  if (className) made.className = className;
  return made;
}

function drawn(name, attributes, text) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  return made;
}

const brewer = (job) => (job.brewer ? plan.brewers[job.brewer - 1].name : job.do === "speak" ? "say" : "kettle");
const grams = (value) => String(Math.round(value * 10) / 10);
const deed = (job) => (job.do === "pour" ? `pour ${job.pour}` : job.do === "speak" ? `“${job.words}”` : job.words);

// One lane for each brewer, one for talk and kettle, and on top the hands: never in two places.
function drawLanes() {
  const left = 92;
  const width = 1400;
  const row = 50;
  const top = 30;
  const names = ["hands", ...plan.brewers.map((each) => each.name)];
  const end = Math.max(plan.limit_s, plan.end_s);
  const height = top + names.length * row + 8;
  scale = (seconds) => left + (seconds / end) * (width - left - 24);
  const svg = drawn("svg", { viewBox: `0 0 ${width} ${height}`, role: "img" });
  svg.append(drawn("title", {}, `${plan.title}: ${plan.says}`));
  for (let at = 0; at <= end; at += 30) {
    svg.append(drawn("line", { class: "grid", x1: scale(at), x2: scale(at), y1: top - 4, y2: height }));
    if (at % 60 === 0) svg.append(drawn("text", { class: "faint", x: scale(at), y: 18, "text-anchor": "middle" }, words(at)));
  }
  names.forEach((name, i) => {
    const y = top + i * row;
    svg.append(drawn("line", { class: "rule", x1: 0, x2: width, y1: y, y2: y }));
    svg.append(drawn("text", { class: "name", x: 4, y: y + row / 2 + 5 }, name.length > 11 ? `${name.slice(0, 10)}…` : name));
  });
  plan.jobs.forEach((job, i) => drawJob(svg, job, i, { top, row }));
  svg.append(drawn("line", { class: "limit", x1: scale(plan.limit_s), x2: scale(plan.limit_s), y1: top - 4, y2: height }));
  hand = drawn("line", { class: "hand", x1: left, x2: left, y1: top - 8, y2: height, visibility: "hidden" });
  svg.append(hand);
  id("lanes").replaceChildren(svg);
}

function drawJob(svg, job, index, { top, row }) {
  const x = scale(job.start_s);
  const wide = scale(job.end_s) - x;
  const kind = job.do === "pour" ? "is-pour" : job.do === "speak" ? "is-say" : "is-chore";
  const group = drawn("g", {});
  group.append(drawn("title", {}, `${words(job.start_s)} ${brewer(job)}: ${deed(job)}${job.total_g ? ` to ${grams(job.total_g)} g` : ""}`));
  group.append(drawn("rect", { class: kind, x, y: top + 8, width: Math.max(2, wide), height: row - 16 }));
  if (job.brewer) {
    const y = top + job.brewer * row;
    if (job.do === "pour") {
      const drain = plan.brewers[job.brewer - 1].drain_s[job.pour - 1];
      group.append(drawn("rect", { class: "is-drain", x: x + wide, y: y + 17, width: scale(job.end_s + drain) - x - wide, height: row - 34 }));
    }
    group.append(drawn("rect", { class: kind, x, y: y + 8, width: Math.max(2, wide), height: row - 16 }));
    if (job.do === "pour") {
      const after = plan.jobs.find((other) => other.brewer === job.brewer && other.start_s === job.end_s);
      const from = after ? scale(after.end_s) : x + wide;
      group.append(drawn("text", { class: "name", x: from + 4, y: y + row / 2 + 5 }, grams(job.total_g)));
    }
  }
  svg.append(group);
}

function drawJobs() {
  const table = element("table");
  const head = element("tr");
  for (const [text, className] of [["at", ""], ["brewer", "words"], ["do", "words"], ["total", ""], ["for", ""]]) {
    const cell = element("th", text, className);
    cell.scope = "col";
    head.append(cell);
  }
  const top = element("thead");
  top.append(head);
  const body = element("tbody");
  for (const job of plan.jobs) {
    const line = element("tr", null, job.do === "pour" ? "is-pour" : "");
    line.append(
      element("td", words(job.start_s)),
      element("td", brewer(job), "words"),
      element("td", deed(job), "words"),
      element("td", job.total_g ? `${grams(job.total_g)} g` : ""),
      element("td", `${job.end_s - job.start_s} s`));
    body.append(line);
  }
  table.append(top, body);
  id("jobs").replaceChildren(table);
}

const percent = (share) => `${(100 * share).toFixed(share > 0.995 || share < 0.1 ? 1 : 0)} %`;

function bar(share) {
  const svg = drawn("svg", { class: "odds-bar", viewBox: "0 0 100 10", preserveAspectRatio: "none", "aria-hidden": "true" });
  svg.append(
    drawn("rect", { class: "track", x: 0, y: 0, width: 100, height: 10 }),
    drawn("rect", { class: "share", x: 0, y: 0, width: 100 * share.share, height: 10 }),
    drawn("line", { class: "range", x1: 100 * share.low, x2: 100 * share.high, y1: 5, y2: 5 }));
  return svg;
}

function drawOdds() {
  const odds = plan.odds;
  if (!odds) return;
  const table = element("table");
  const body = element("tbody");
  const add = (name, share) => {
    const line = element("tr");
    const picture = element("td");
    picture.append(bar(share));
    line.append(element("td", name, "words"), picture, element("td", percent(share.share)), element("td", `${percent(share.low)} to ${percent(share.high)}`));
    body.append(line);
  };
  add("done in time", odds.in_time);
  add("all pours inside too", odds.all_well);
  for (const pour of odds.pours) add(`${plan.brewers[pour.brewer - 1].name}, pour ${pour.pour}`, pour.inside);
  table.append(body);
  const how = element("p", `${odds.trials} routines played with dice, seed ${odds.seed}; spreads from ${odds.spreads_from}. Half end by ${words(odds.median_end_s)}, 19 of 20 by ${words(odds.slow_end_s)}.`, "hint");
  id("odds").replaceChildren(how, table);
}

function now() {
  if (told.at_s === undefined) return null;
  return told.at_s + (told.running ? (told.speed * (performance.now() - toldAt)) / 1000 : 0);
}

// Where the one scale stands that is moved between; it knows by itself, unless it is mistaken.
function showStands() {
  const standing = live && live.moved_scale;
  id("stands").hidden = !standing;
  if (!standing) return;
  if (!id("stands").querySelector("button")) {
    plan.brewers.forEach((each, i) => {
      const button = element("button");
      button.type = "button";
      button.append(element("kbd", String(i + 1)), ` ${each.name}`);
      button.addEventListener("click", () => place(i + 1));
      id("stands").append(button);
    });
  }
  id("stands").querySelectorAll("button").forEach((button, i) => {
    button.setAttribute("aria-pressed", String(!standing.away && standing.lane === i + 1));
  });
}

async function place(lane) {
  if (!live || !live.moved_scale || lane > plan.brewers.length) return;
  refused(await send("commands", { do: "scale_under", lane }));
}

function showNow() {
  const at = now();
  const jobs = plan.jobs;
  const seconds = at === null ? -1 : at;
  let next = jobs.findIndex((job) => job.start_s > seconds);
  if (next < 0) next = jobs.length;
  const doing = next > 0 && jobs[next - 1].end_s > seconds ? jobs[next - 1] : null;
  const coming = jobs[next];
  id("clock").textContent = words(Math.max(0, seconds));
  const flowing = pouring();
  id("who").textContent = flowing ? flowing.name : doing ? brewer(doing) : "";
  id("what").textContent = flowing ? `pour ${flowing.pour}` : doing ? deed(doing) : at === null ? told.led ? "the first water starts the clock" : "ready" : coming ? "hands free" : "all done";
  id("total").replaceChildren();
  if (flowing) id("total").append(String(Math.round(flowing.toGo)), element("small", " g to go"));
  else if (doing && doing.total_g) id("total").append(grams(doing.total_g), element("small", " g in all"));
  const left = doing ? (doing.end_s - seconds) / (doing.end_s - doing.start_s) : 0;
  id("run-out").style.setProperty("--left", flowing ? Math.max(0, Math.min(1, flowing.toGo / flowing.add)) : left);
  document.body.classList.toggle("is-led", Boolean(told.led));
  document.body.classList.toggle("is-live", at !== null);
  const notice = live && live.notices.length ? live.notices[live.notices.length - 1] : "";
  if (id("notice").textContent !== notice) id("notice").textContent = notice;
  const inSeconds = coming ? Math.ceil(coming.start_s - Math.max(0, seconds)) : 0;
  id("coming").textContent = coming
    ? `${at === null ? "first" : `next in ${inSeconds} s`}: ${brewer(coming)}, ${deed(coming)}${coming.total_g ? ` to ${grams(coming.total_g)} g` : ""}`
    : at === null ? "" : `limit ${words(plan.limit_s)}`;
  id("coming").classList.toggle("is-soon", at !== null && coming !== undefined && inSeconds <= SOON_S);
  id("start-word").textContent = told.running ? "stop the clock" : at === null ? "start the clock" : "go on";
  if (hand) {
    hand.setAttribute("visibility", at === null ? "hidden" : "visible");
    const x = scale(Math.min(Math.max(0, seconds), Math.max(plan.limit_s, plan.end_s)));
    hand.setAttribute("x1", x);
    hand.setAttribute("x2", x);
  }
  const lines = id("jobs").querySelectorAll("tbody tr");
  lines.forEach((line, i) => {
    if (doing && i === next - 1) line.setAttribute("aria-current", "step");
    else line.removeAttribute("aria-current");
  });
  showStands();
  sing(seconds, next);
}

// The pour that the scales see now, unless it must not be shown.
function pouring() {
  const lane = live && live.lanes.find((each) => each.guide && each.guide.pour && each.guide.to_go_g !== undefined);
  if (!lane || lane.hidden || !lane.guide.shown) return null;
  const job = plan.jobs.find((each) => each.brewer === lane.number && each.pour === lane.guide.pour);
  if (!job) return null;
  return { name: plan.brewers[lane.number - 1].name, pour: job.pour, toGo: lane.guide.to_go_g, add: job.add_g };
}

// A pour is announced, then begun; each once.
function sing(seconds, next) {
  if (!told.running) return;
  const coming = plan.jobs[next];
  if (coming && coming.do === "pour" && coming.start_s - seconds <= 3 && played < 2 * next) {
    played = 2 * next;
    sound.play("get_ready", `${brewer(coming)} next`);
  }
  const begun = plan.jobs[next - 1];
  if (begun && begun.do === "pour" && seconds - begun.start_s < 1 && played < 2 * next - 1) {
    played = 2 * next - 1;
    sound.play("start", "pour");
  }
}

function tick() {
  if (plan && plan.jobs) showNow();
  requestAnimationFrame(tick);
}

async function look() {
  try {
    const answer = await fetch("/api/v1/stage/clock");
    if (answer.ok) {
      told = await answer.json();
      toldAt = performance.now();
      if (told.led && !isListening) {
        isListening = true;
        listen((message) => {
          if (message.type === "view") live = message;
          else if (message.type === "outcome") live = null;
        }, () => {});
      }
    }
    if (performance.now() - refusedAt > REFUSAL_MS) id("trouble").hidden = true;
  } catch {
    trouble("This page has lost the program and tries to reach it; the clock here runs on.");
  }
  setTimeout(look, LOOK_MS);
}

function trouble(text) {
  id("trouble").textContent = text;
  id("trouble").hidden = false;
}

function refused(why) {
  if (!why) return;
  refusedAt = performance.now();
  trouble(why);
}

async function tell(word) {
  if (word === "reset") played = -1;
  refused(await send("stage/clock", { do: word }));
}

function mute() {
  sound.wake();
  settings.set("muted", !settings.get("muted"));
  sound.apply();
  showMuted();
}

function showMuted() {
  id("sound-word").textContent = settings.get("muted") ? "muted" : sound.isAwake() ? "sound on" : "touch for sound";
}

function enlarge() {
  const isLarge = document.body.classList.toggle("is-large");
  id("large").setAttribute("aria-pressed", String(isLarge));
}

const start = () => {
  if (told.led) return; // the water leads the clock
  sound.wake();
  showMuted();
  tell(told.running ? "stop" : "start");
};

id("start").addEventListener("click", start);
id("reset").addEventListener("click", () => tell("reset"));
id("sound").addEventListener("click", mute);
id("large").addEventListener("click", enlarge);
window.addEventListener("keydown", (event) => {
  const actions = { " ": start, PageDown: start, 0: () => tell("reset"), m: mute, f: enlarge };
  const action = actions[event.key] || (/^[1-8]$/.test(event.key) ? () => place(Number(event.key)) : null);
  const isOnButton = event.key === " " && event.target instanceof Element && event.target.closest("button, a");
  if (!action || isOnButton || event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
  event.preventDefault();
  action();
});

async function begin() {
  const answer = await fetch("/api/v1/stage");
  if (!answer.ok) {
    trouble("No routine is open here. `pourwright stage solve MY-ROUTINE.yaml --page` shows one, `pourwright stage mock` runs it.");
    return;
  }
  plan = await answer.json();
  id("title").textContent = plan.title;
  id("says").textContent = plan.says;
  id("event").textContent = plan.event.note;
  id("rest").hidden = false;
  if (plan.clash) {
    id("clash").hidden = false;
    id("clash").replaceChildren(...plan.clash.map((rule) => element("li", rule)));
  }
  if (plan.jobs) {
    id("now").hidden = false;
    drawLanes();
    drawJobs();
    drawOdds();
    showMuted();
    look();
    tick();
  } else {
    for (const name of ["lanes", "key"]) id(name).hidden = true;
    document.querySelector(".halves").hidden = true;
  }
}

begin();
