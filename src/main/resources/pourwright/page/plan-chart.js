// Draws a foreseen brew on one line of time: water poured, slurry above the bed, kettle.

import { clock, grams } from "/words.js";

const SVG = "http://www.w3.org/2000/svg";
const LEFT = 54;
const RIGHT = 14;
const FOOT = 22;
const GAP = 26;
const DRY_ROW = 20;

function make(name, attributes, text) {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  if (text !== undefined) node.textContent = text;
  return node;
}

function path(points) {
  return points.map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)},${y.toFixed(1)}`).join("");
}

function step(span) {
  return [10, 15, 30, 60, 120, 300].find((candidate) => span / candidate <= 9) || 600;
}

// Labels of one row that would run into each other: the later one is left out.
function row() {
  let free = -Infinity;
  return (x, width) => {
    if (x - width / 2 < free) return false;
    free = x + width / 2 + 6;
    return true;
  };
}

export function draw(box, told, limits) {
  const width = box.clientWidth;
  const height = box.clientHeight;
  if (!width || !height) return;
  const { forecast, plan } = told;
  const slurry = forecast.slurry;
  const pours = forecast.pours;
  const lastOf = (levels) => levels[levels.length - 1][0];
  const end = Math.max(lastOf(slurry.expected), Math.min(lastOf(slurry.late), 1.35 * lastOf(slurry.expected)), limits.limitSeconds > lastOf(slurry.expected) * 1.5 ? 0 : limits.limitSeconds);
  const x = (s) => LEFT + (Math.min(s, end) / end) * (width - LEFT - RIGHT);
  const room = height - FOOT - 3 * GAP - DRY_ROW;
  const svg = make("svg", { viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": sentence(told) });
  svg.append(grain());
  const strips = [0.38, 0.38, 0.24].reduce((list, share, i) => {
    const top = list.length ? list[list.length - 1].bottom + GAP + (i === 2 ? DRY_ROW : 0) : GAP;
    return [...list, { top, bottom: top + share * room }];
  }, []);
  times(svg, end, x, strips[2].bottom, height);
  poured(svg, plan, pours, x, strips[0], forecast.troubles, end);
  standing(svg, slurry, pours, x, strips[1], limits, end);
  kettle(svg, forecast.kettle, pours, x, strips[2], limits, end);
  box.replaceChildren(svg);
}

function grain() {
  const defs = make("defs", {});
  const pattern = make("pattern", { id: "water", width: 12, height: 14, patternUnits: "userSpaceOnUse" });
  pattern.append(make("rect", { class: "grain", width: 12, height: 14 }), make("rect", { class: "grain-line", width: 12, height: 2 }));
  defs.append(pattern);
  return defs;
}

function times(svg, end, x, bottom, height) {
  const every = step(end);
  for (let s = 0; s <= end; s += every) {
    svg.append(make("line", { class: "tick", x1: x(s), x2: x(s), y1: GAP, y2: bottom }));
    svg.append(make("text", { class: "label", x: x(s), y: height - 5, "text-anchor": "middle" }, clock(s)));
  }
}

function ground(svg, strip, x, end, words) {
  svg.append(make("text", { class: "label", x: 0, y: strip.top - 9 }, words));
  svg.append(make("line", { class: "ground", x1: x(0), x2: x(end), y1: strip.bottom, y2: strip.bottom }));
}

function poured(svg, plan, pours, x, strip, troubles, end) {
  const y = (g) => strip.bottom - (g / plan.water_g) * (strip.bottom - strip.top);
  ground(svg, strip, x, end, "water poured, g");
  const stair = [[x(0), y(0)]];
  let total = 0;
  pours.forEach((pour, i) => {
    stair.push([x(pour.start_s), y(total)]);
    total = plan.pours[i].total_g;
    stair.push([x(pour.end_s), y(total)]);
  });
  stair.push([x(end), y(total)]);
  svg.append(make("path", { class: "poured", d: `${path(stair)}L${x(end)},${y(0)}L${x(0)},${y(0)}Z` }));
  svg.append(make("path", { class: "course", d: path(stair) }));
  const fits = row();
  pours.forEach((pour, i) => {
    const next = i + 1 < pours.length ? pours[i + 1].start_s : end;
    const middle = (x(pour.end_s) + x(next)) / 2;
    const isWrong = troubles.some((trouble) => trouble.pour === pour.index);
    const words = grams(plan.pours[i].total_g, plan.pours[i].total_g % 1 ? 1 : 0);
    if (fits(middle, 8.5 * words.length + (isWrong ? 18 : 0))) {
      const label = make("text", { class: "strong", x: middle, y: y(plan.pours[i].total_g) - 7, "text-anchor": "middle" }, words);
      if (isWrong) label.prepend(make("tspan", { class: "trouble" }, "▲ "));
      svg.append(label);
    }
  });
}

function standing(svg, slurry, pours, x, strip, limits, end) {
  const rim = limits.rimMillimetres - slurry.bed_mm;
  const peak = Math.max(8, ...slurry.expected.map((level) => level[1]), ...slurry.late.map((level) => level[1]));
  const top = rim < 1.6 * peak ? Math.max(rim, peak) * 1.08 : peak * 1.15;
  const y = (mm) => strip.bottom - (Math.max(0, mm) / top) * (strip.bottom - strip.top);
  ground(svg, strip, x, end, "slurry above the bed, mm, and its uncertainty");
  const clip = (levels) => levels.filter((level) => level[0] <= end);
  const courses = [slurry.early, slurry.expected, slurry.late];
  const moments = [...new Set(courses.flatMap((levels) => clip(levels).map((level) => level[0])))].sort((one, other) => one - other);
  const least = moments.map((s) => [x(s), y(Math.min(...courses.map((levels) => levelAt(levels, s))))]);
  const most = moments.map((s) => [x(s), y(Math.max(...courses.map((levels) => levelAt(levels, s))))]);
  svg.append(make("path", { class: "band", d: `${path(most)}${path([...least].reverse()).replace("M", "L")}Z` }));
  const expected = clip(slurry.expected).map(([s, mm]) => [x(s), y(mm)]);
  svg.append(make("path", { class: "course", d: path(expected) }));
  if (rim < top) {
    svg.append(make("line", { class: "limit", x1: x(0), x2: x(end), y1: y(rim), y2: y(rim) }));
    svg.append(make("text", { class: "limit-word", x: x(end), y: y(rim) - 5, "text-anchor": "end" }, "rim"));
  }
  if (limits.limitSeconds <= end) {
    svg.append(make("line", { class: "limit", x1: x(limits.limitSeconds), x2: x(limits.limitSeconds), y1: strip.top, y2: strip.bottom }));
  }
  for (const mm of [0, Math.round(peak)]) {
    svg.append(make("text", { class: "label", x: LEFT - 8, y: y(mm) + 5, "text-anchor": "end" }, String(mm)));
  }
  const fits = row();
  for (const pour of pours) {
    if (!pour.drained_s) continue;
    const at = pour.drained_s.expected;
    svg.append(make("path", { class: "dry", d: `M${x(at)},${strip.bottom - 1}l-6,10h12Z` }));
    const words = `dry ${clock(Math.round(at))}`;
    if (fits(x(at), 7.5 * words.length)) {
      svg.append(make("text", { class: "value", x: Math.min(x(at), x(end) - 30), y: strip.bottom + 22, "text-anchor": "middle" }, words));
    }
  }
}

// Between two points of a course by a line; nothing stands before and after it.
function levelAt(levels, s) {
  const after = levels.findIndex((level) => level[0] >= s);
  if (after < 0) return 0;
  if (after === 0 || levels[after][0] === s) return levels[after][1];
  const [from, to] = [levels[after - 1], levels[after]];
  return from[1] + ((s - from[0]) / (to[0] - from[0])) * (to[1] - from[1]);
}

function kettle(svg, course, pours, x, strip, limits, end) {
  const low = course.start_c - limits.coolerCelsius;
  const all = course.course.map((state) => state[2]);
  const most = Math.max(course.start_c, ...all) + 0.5;
  const lowest = Math.min(low, ...all);
  const least = lowest - 0.3 * (most - lowest); // room for a figure under the line
  const y = (c) => strip.bottom - ((c - least) / (most - least)) * (strip.bottom - strip.top);
  ground(svg, strip, x, end, "kettle, °C");
  svg.append(make("line", { class: "limit", x1: x(0), x2: x(end), y1: y(low), y2: y(low) }));
  svg.append(make("text", { class: "limit-word", x: x(end), y: y(low) - 5, "text-anchor": "end" }, "coolest"));
  svg.append(make("path", { class: "heat", d: path(course.course.filter((state) => state[0] <= end).map((state) => [x(state[0]), y(state[2])])) }));
  svg.append(make("text", { class: "label", x: LEFT - 8, y: y(course.start_c) + 5, "text-anchor": "end" }, grams(course.start_c, 1)));
  const fits = row();
  fits(0, 2 * LEFT);
  const isNear = (c) => Math.abs(y(c) - 7 - y(low)) < 14;
  for (const pour of pours.slice(1)) {
    const words = `${grams(pour.kettle_c, 1)}`;
    if (fits(x(pour.start_s), 9 * words.length)) {
      svg.append(make("text", { class: "value", x: x(pour.start_s), y: isNear(pour.kettle_c) ? y(pour.kettle_c) + 17 : y(pour.kettle_c) - 7, "text-anchor": "middle" }, words));
    }
  }
}

function sentence({ forecast }) {
  return forecast.pours
    .map((pour) => `pour ${pour.index} from ${clock(pour.start_s)} to ${clock(pour.end_s)}${pour.drained_s ? `, dry at about ${clock(pour.drained_s.expected)}` : ""}`)
    .join("; ");
}
