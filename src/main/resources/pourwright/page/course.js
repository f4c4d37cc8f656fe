// The course: the plan as a rising corridor, the poured water in it, time running right.

import uPlot from "/uPlot.js";
import { clock } from "/words.js";

const CORRIDOR_STEP_S = 0.25;
const AFTER_S = 25;
const LABEL_PX = 18;

// How much should have landed at a moment of the plan clock.
function plannedAt(pours, at) {
  let mass = 0;
  for (const pour of pours) {
    if (at <= pour.start_clock_s) break;
    mass = Math.min(pour.to_g, pour.from_g + pour.flow_g_per_s * (at - pour.start_clock_s));
  }
  return mass;
}

// x, low, high and plan; fine enough that a corner shows as one.
function corridor(plan, until) {
  const { mass_g: mass, start_s: start } = plan.tolerance;
  const x = [];
  const low = [];
  const high = [];
  const planned = [];
  for (let at = 0; at <= until; at += CORRIDOR_STEP_S) {
    x.push(at);
    low.push(Math.max(0, plannedAt(plan.pours, at - start) - mass));
    high.push(plannedAt(plan.pours, at + start) + mass);
    planned.push(plannedAt(plan.pours, at));
  }
  return [x, low, high, planned];
}

// On a low chart some masses lie too close to be written; the highest is kept.
function apart(chart, masses) {
  const kept = [...masses];
  let above = null;
  for (let i = kept.length - 1; i >= 0; i--) {
    const at = chart.valToPos(kept[i], "y");
    if (above !== null && at - above < LABEL_PX) kept[i] = null;
    else above = at;
  }
  return kept;
}

export function createCourse(host, plan, isLive) {
  const end = plan ? plan.pours[plan.pours.length - 1].end_clock_s : 180;
  const most = plan ? plan.water_g : 300;
  let until = end + AFTER_S;
  let band = plan ? corridor(plan, until) : null;
  const trace = { x: [], y: [] };
  let now = null;
  let isDirty = true;

  const token = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const font = (bold) => `${bold ? 700 : 400} 16px Hyperlegible, sans-serif`;

  const chart = new uPlot(
    {
      width: 300,
      height: 150,
      pxAlign: 0,
      cursor: { show: false },
      legend: { show: false },
      select: { show: false },
      padding: [14, 14, 0, 0],
      scales: {
        x: { time: false, range: () => [0, until] },
        y: { range: () => [0, Math.max(most, trace.y[trace.y.length - 1] || 0) * 1.08] },
      },
      axes: [
        {
          stroke: () => token("--ink"),
          font: font(false),
          size: 34,
          gap: 4,
          grid: { show: false },
          ticks: { stroke: () => token("--rule"), width: 1, size: 6 },
          splits: () => (plan ? plan.pours.map((pour) => pour.start_clock_s) : [0, 60, 120, 180]),
          values: (self, splits) => splits.map(clock),
        },
        {
          stroke: () => token("--ink"),
          font: font(false),
          size: 62,
          gap: 6,
          grid: { show: true, stroke: () => token("--rule"), width: 0.5, dash: [2, 6] },
          ticks: { show: false },
          splits: () => (plan ? plan.pours.map((pour) => pour.to_g) : [0, 100, 200, 300]),
          values: (self, splits) => apart(self, splits).map((mass) => mass === null ? "" : `${Math.round(mass)} g`),
        },
      ],
      series: [{}],
      hooks: { drawAxes: [drawBand], draw: [drawTrace, drawMarks] },
    },
    [[0, until]],
    host,
  );

  function path(context, xs, ys, from = 0, to = xs.length) {
    for (let i = from; i < to; i++) {
      const px = chart.valToPos(xs[i], "x", true);
      const py = chart.valToPos(ys[i], "y", true);
      if (i === from) context.moveTo(px, py);
      else context.lineTo(px, py);
    }
  }

  function clipped(draw) {
    const { ctx, bbox } = chart;
    ctx.save();
    ctx.beginPath();
    ctx.rect(bbox.left, bbox.top - 12, bbox.width, bbox.height + 12);
    ctx.clip();
    ctx.setLineDash([]);
    draw(ctx, window.devicePixelRatio || 1);
    ctx.restore();
  }

  function drawBand() {
    if (!band) return;
    clipped((ctx, scale) => {
      const [x, low, high, planned] = band;
      ctx.beginPath();
      path(ctx, x, high);
      for (let i = x.length - 1; i >= 0; i--) {
        ctx.lineTo(chart.valToPos(x[i], "x", true), chart.valToPos(low[i], "y", true));
      }
      ctx.closePath();
      ctx.fillStyle = token("--corridor");
      ctx.fill();
      ctx.strokeStyle = token("--rule");
      ctx.lineWidth = scale;
      ctx.stroke();
      ctx.beginPath();
      path(ctx, x, planned);
      ctx.lineWidth = 1.5 * scale;
      ctx.setLineDash([6 * scale, 5 * scale]);
      ctx.stroke();
    });
  }

  function drawTrace() {
    if (trace.x.length === 0) return;
    clipped((ctx, scale) => {
      ctx.beginPath();
      path(ctx, trace.x, trace.y);
      ctx.strokeStyle = token("--ink");
      ctx.lineWidth = 4 * scale;
      ctx.lineJoin = "round";
      ctx.lineCap = "round";
      ctx.stroke();
    });
  }

  function drawMarks() {
    clipped((ctx, scale) => {
      const top = chart.bbox.top;
      const bottom = top + chart.bbox.height;
      if (plan) {
        for (const mark of plan.talk) {
          const px = chart.valToPos(mark.at_clock_s, "x", true);
          ctx.fillStyle = token("--faint");
          ctx.fillRect(px - scale, top - 10 * scale, 2 * scale, 24 * scale);
          ctx.font = `${16 * scale}px Hyperlegible, sans-serif`;
          ctx.textBaseline = "top";
          ctx.textAlign = "left";
          ctx.fillText("say", px + 5 * scale, top - 10 * scale);
        }
      }
      if (now !== null) {
        const px = chart.valToPos(now, "x", true);
        ctx.beginPath();
        ctx.moveTo(px, top);
        ctx.lineTo(px, bottom);
        ctx.strokeStyle = token("--now");
        ctx.lineWidth = 2 * scale;
        ctx.stroke();
        ctx.beginPath();
        ctx.moveTo(px - 9 * scale, bottom);
        ctx.lineTo(px + 9 * scale, bottom);
        ctx.lineTo(px, bottom - 14 * scale);
        ctx.closePath();
        ctx.fillStyle = token("--now");
        ctx.fill();
      }
    });
  }

  function fit() {
    const box = host.getBoundingClientRect();
    if (box.width > 40 && box.height > 40) {
      chart.setSize({ width: Math.floor(box.width), height: Math.floor(box.height) });
    }
  }

  const watcher = new ResizeObserver(fit);
  watcher.observe(host);

  return {
    add(seconds, masses) {
      trace.x.push(...seconds);
      trace.y.push(...masses);
      isDirty = true;
    },
    clear() {
      trace.x.length = 0;
      trace.y.length = 0;
      isDirty = true;
    },
    at(clockSeconds) {
      if (clockSeconds === now) return;
      now = clockSeconds;
      if (isLive && now !== null && now > until - 5) {
        until = now + 30;
        band = plan ? corridor(plan, until) : null;
        chart.setData([[0, until]]);
      }
      isDirty = true;
    },
    paint() {
      if (!isDirty) return;
      isDirty = false;
      chart.redraw(false, true);
    },
    repaint() {
      chart.redraw(false, true);
    },
    remove() {
      watcher.disconnect();
      chart.destroy();
    },
  };
}
