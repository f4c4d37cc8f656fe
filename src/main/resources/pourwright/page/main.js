// Puts the page together: what comes in goes to the brewers, what the hand does goes out.

import { createBrewer } from "/brewer.js";
import { showDebrief } from "/debrief.js";
import { listenKeys } from "/keys.js";
import { createSettings, wireDialog } from "/settings.js";
import { createSound } from "/sound.js";
import { listen, send } from "/stream.js";
import { FEEDBACK, PHASES, clock } from "/words.js";

const id = (name) => document.getElementById(name);
const settings = createSettings();
const sound = createSound(settings);
const dialog = wireDialog(settings, sound);

let run = null;
let view = null;
let brewers = [];
let refusal = null;
let wokenAt = -Infinity;
const played = new Set();
const MOST_ABREAST = 4;
const narrow = window.matchMedia("(width < 600px)");
narrow.addEventListener("change", layOut);

function begin(message) {
  run = message;
  view = null;
  refusal = null;
  played.clear();
  brewers.forEach((brewer) => brewer.remove());
  id("debrief").hidden = true;
  document.body.classList.remove("is-debriefing");
  id("live").hidden = false;
  layOut();
  brewers = run.lanes.map((lane) => createBrewer(lane, run.feedback));
  const titles = [...new Set(run.lanes.map((lane) => (lane.plan ? lane.plan.title : "free run")))];
  id("title").textContent = titles.join(" · ");
  document.title = `${titles.join(" · ")} – Pourwright`;
}

// Two brewers stand side by side where there is room; else whoever's turn it is has the room.
function layOut() {
  const count = run ? run.lanes.length : 1;
  const isByTurns = count > 2 || (count === 2 && narrow.matches);
  id("live").classList.toggle("is-two", count === 2 && !isByTurns);
  id("live").classList.toggle("is-by-turns", isByTurns);
  id("live").style.setProperty("--others", Math.min(count - 1, MOST_ABREAST));
}

function show(message) {
  const isFirst = view === null;
  view = message;
  for (const stretch of message.trace || []) {
    brewers.find((brewer) => brewer.number === stretch.lane)?.addTrace(stretch.s, stretch.g);
  }
  const notices = refusal ? [refusal, ...message.notices] : message.notices;
  const due = turn();
  message.lanes.forEach((lane, i) => {
    brewers[i]?.show({ at_s: message.at_s, ...lane }, notices, lane.number === due);
  });
  const running = message.lanes.find((lane) => lane.clock_s !== undefined);
  id("clock").textContent = running ? clock(running.clock_s) : "";
  id("state").textContent = [
    run.simulated ? "simulated scale" : null,
    PHASES[message.phase],
    run.feedback === "full" ? null : FEEDBACK[run.feedback],
    message.void ? "void: this run does not count" : null,
  ].filter(Boolean).join(" · ");
  id("void").setAttribute("aria-pressed", String(message.void));
  showLinks(message);
  sing(message, isFirst);
}

function showLinks(message) {
  let items = message.lanes.flatMap((lane) => lane.links.map((link) => describe(message, lane, link)));
  if (items.length > 2) {
    const well = items.filter((item) => item.isWell);
    const slowest = Math.min(...message.lanes.flatMap((lane) => lane.links).map((link) => link.readings_per_s));
    const all = `${well.length} of ${items.length} scales heard · the slowest ${Math.round(slowest)}/s`;
    items = [{ isLost: false, text: all }, ...items.filter((item) => !item.isWell)];
  }
  const list = id("links");
  while (list.children.length < items.length) list.append(document.createElement("li"));
  while (list.children.length > items.length) list.lastChild.remove();
  items.forEach((item, i) => {
    if (list.children[i].textContent !== item.text) list.children[i].textContent = item.text;
    list.children[i].classList.toggle("is-lost", item.isLost);
  });
}

function describe(message, lane, link) {
  const name = message.lanes.length > 1 || lane.links.length > 1
    ? `${run.lanes[lane.number - 1].brewer} ${link.place}`
    : "scale";
  if (link.loss) return { isLost: true, text: `▲ ${name} lost for ${Math.round(link.loss.for_s)} s` };
  if (!link.heard) return { isLost: false, text: `${name} not heard yet` };
  const parts = [
    link.shows_g === undefined ? null : `${link.shows_g.toFixed(1)} g`,
    link.out_of_range ? "out of its range" : null,
    `${Math.round(link.readings_per_s)}/s`,
    lane.lag_s ? `lag ${lane.lag_s.toFixed(1)} s` : null,
    link.losses ? `${link.losses} × lost` : null,
    link.junk ? `${link.junk} × garbled` : null,
    link.battery_pct === undefined ? null : `battery ${link.battery_pct} %`,
  ];
  const isWell = !link.out_of_range && !link.losses && !link.junk;
  return { isLost: false, isWell, text: `${name} ${parts.filter(Boolean).join(" · ")}` };
}

// Cues are in every view from their moment on; each is heard once, and none that a reload missed.
function sing(message, isFirst) {
  let toGo = null;
  for (const lane of message.lanes) {
    for (const cue of lane.cues || []) {
      const name = `${lane.number}:${cue.number}`;
      if (played.has(name)) continue;
      played.add(name);
      if (!isFirst) sound.play(cue.kind, cue.say);
    }
    if (lane.guide && lane.guide.shown && lane.guide.pour !== undefined && !lane.hidden) toGo = lane.guide.to_go_g;
  }
  sound.pour(toGo);
}

function receive(message) {
  if (message.type === "run") begin(message);
  else if (message.type === "view" && run && message.run === run.run) show(message);
  else if (message.type === "outcome" && run && message.run === run.run) {
    sound.pour(null);
    id("live").hidden = true;
    id("debrief").hidden = false;
    document.body.classList.add("is-debriefing");
    showDebrief(id("debrief"), run, message);
  }
}

function link(isOpen) {
  id("page-link").hidden = isOpen;
  id("page-link").textContent = isOpen
    ? ""
    : "This page has lost the program and tries to reach it. A run that is under way goes on there and is kept.";
}

// A command to one lane: that of the brewer whose turn it is, else the first.
function turn() {
  const lanes = view ? view.lanes : [];
  const pouring = lanes.find((lane) => lane.guide && lane.guide.pour !== undefined);
  const due = lanes
    .filter((lane) => lane.guide && lane.guide.next && lane.guide.next.in_s !== undefined)
    .sort((a, b) => a.guide.next.in_s - b.guide.next.in_s)[0];
  return (pouring || due || lanes[0] || { number: 1 }).number;
}

async function command(body) {
  refusal = await send("commands", body);
  if (refusal) setTimeout(() => { refusal = null; }, 6000);
}

function showMuted() {
  id("sound").setAttribute("aria-pressed", String(!settings.get("muted")));
  const isAsleep = !sound.isAwake();
  id("sound-word").textContent = settings.get("muted") ? "muted" : isAsleep ? "touch for sound" : "sound on";
}

const actions = {
  void: () => command({ do: "void" }),
  drained: () => command({ do: "drained", lane: turn() }),
  tare: () => command({ do: "tare", lane: turn() }),
  end: () => command({ do: "stop" }),
  settings: () => dialog.open(),
  // The touch that woke the sound must not mute it.
  mute: () => settings.set("muted", performance.now() - wokenAt < 1000 ? false : !settings.get("muted")),
  louder: () => settings.set("volume", Math.min(100, settings.get("volume") + 10)),
  softer: () => settings.set("volume", Math.max(0, settings.get("volume") - 10)),
};

id("void").addEventListener("click", actions.void);
id("drained").addEventListener("click", actions.drained);
id("tare").addEventListener("click", actions.tare);
id("end").addEventListener("click", actions.end);
id("sound").addEventListener("click", actions.mute);
id("open-settings").addEventListener("click", actions.settings);
listenKeys(actions, dialog.isOpen);
for (const event of ["pointerdown", "keydown"]) {
  window.addEventListener(event, () => {
    if (!sound.isAwake()) {
      wokenAt = performance.now();
      sound.wake();
      setTimeout(showMuted, 150);
    }
  }, { capture: true });
}
settings.onChange(() => {
  sound.apply();
  showMuted();
  brewers.forEach((brewer) => brewer.repaint());
});
showMuted();
document.fonts.ready.then(() => brewers.forEach((brewer) => brewer.repaint()));
listen(receive, link);
