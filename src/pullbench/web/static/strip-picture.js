/** The strip as it is now: paper, line, textures, words, holes and the pen. Called with every picture of the screen. */
import { columnSeconds, levelFor } from "./columns.js";
import { hang, holes, line, paper, say, scaleNumbers, SIZE, widthOf, yOf } from "./ink.js";
import { columnPoints } from "./points.js";
import { markPull, namePhase } from "./pull-marks.js";
import { gridText } from "./scale.js";
import { quietStretches, spans } from "./spans.js";
import { colours } from "./theme.js";
import { endOf } from "./view.js";
import { words } from "./words.js";

const MOST_COLUMNS = 16000;
const pairs = new Float32Array(2 * MOST_COLUMNS);
const xy = new Float32Array(6 * MOST_COLUMNS);
const SLOWEST_STEP_S = 0.12; // a sensor of which nothing is known yet may be as slow as this
const HOLE_EVERY_S = [1, 10, 60, 600, 3600];

/**
 * @typedef {object} Frame what is drawn, and where
 * @property {import("./ink.js").Sheet} sheet @property {import("./day.js").Day} day
 * @property {import("./view.js").View} view @property {number} now_s @property {boolean} plain only line and textures
 * @property {number} nib x of the pen
 */

/** @param {Frame} frame @returns {{force_N: number}} what the pen writes, along the pull */
export function drawStrip(frame) {
  const { sheet, day, view, now_s, nib, plain } = frame;
  const state = day.store.get();
  paper(sheet);
  if (!Number.isFinite(now_s)) return { force_N: NaN };
  const perS = nib / view.span_s;
  const end_s = endOf(view, now_s);
  const x = (t) => nib + (t - end_s) * perS;
  const from_s = end_s - nib / perS;
  const to_s = Math.min(now_s, end_s + (sheet.width - nib) / perS);
  const points = pointsBetween(frame, state, x, from_s, to_s, perS);
  const seen = state.pulls.filter((p) => p.end_s > from_s - 5 && p.start_s < to_s);
  textures(frame, state, seen, points, x);
  line(sheet, points, plain || perS < 50 * sheet.u ? 3 : 5);
  if (!plain) {
    writing(frame, state, seen, points, x, from_s, to_s, perS);
    scaleNumbers(sheet);
  }
  const force_N = lastForce(frame, points);
  const following = view.end_s === null;
  if (following || x(now_s) <= sheet.width) pen(frame, x(now_s), yOf(sheet, Number.isFinite(force_N) ? force_N : 0));
  return { force_N };
}

/** @returns {import("./ink.js").Points} */
function pointsBetween({ sheet, day }, state, x, from_s, to_s, perS) {
  const level = levelFor(1 / perS);
  const column_s = columnSeconds(level);
  const first = Math.floor(from_s / column_s);
  const count = Math.min(Math.max(0, Math.floor(to_s / column_s) - first + 1), MOST_COLUMNS);
  day.filler.look(level, from_s, to_s);
  day.columns.read(level, first, count, pairs);
  const step_s = state.check?.step_s ?? SLOWEST_STEP_S;
  const bridge = Math.ceil(Math.max(0.04, 3.5 * step_s) / column_s);
  const written = columnPoints(pairs, count, (i) => x((first + i + 0.5) * column_s), (f) => yOf(sheet, f), sheet.sign, bridge, xy);
  return { xy, count: written };
}

function lastForce({ sheet }, { xy: at, count }) {
  if (!count) return NaN;
  return ((sheet.base - at[2 * count - 1]) / (sheet.base - sheet.top)) * sheet.full_N;
}

function textures({ sheet, now_s, plain }, state, seen, points, x) {
  const shift = x(0) % (sheet.u * 36 * 22 * 7); // any paper-fixed origin will do; small numbers stay exact
  for (const span of spans(seen.filter((p) => p.aside === null), state.history, now_s)) {
    hang(sheet, points, span.name, x(span.from_s), x(span.to_s), shift);
  }
  if (plain) return;
  for (const pull of seen) if (pull.aside !== null) hang(sheet, points, "aside", x(pull.start_s), x(pull.end_s), shift);
}

function writing({ sheet, now_s, day, nib, view }, state, seen, points, x, from_s, to_s, perS) {
  const { u, base, width } = sheet;
  const feet = base - 12 * u;
  punch(sheet, state.label, x, from_s, to_s, perS);
  const ends = seen.map((pull, i) => {
    const next = seen[i + 1];
    return onePull(sheet, pull, { x, limit: next ? x(next.start_s) : Math.max(width, x(now_s)), phaseFoot: feet, points }, perS);
  });
  const crowded = seen.filter((_, i) => ends[i] > 0);
  for (const { from_s: a, to_s: b } of quietStretches(seen, now_s)) {
    const text = words.states.quiet;
    const from = Math.max(x(a) + 90 * u, ...ends.filter((end) => end < x(b)).map((end) => end + 30 * u));
    if (x(b) - from > widthOf(sheet, text) + 30 * u) say(sheet, text, from, feet);
  }
  for (const span of spans(seen.filter((p) => p.aside === null), state.history, now_s)) {
    if (span.name !== "loading" && crowded.some((p) => p.start_s <= span.from_s && span.to_s <= p.end_s)) continue;
    if (span.to_s < now_s - 0.05 && (!span.live || span.name !== "settling")) {
      const inset = span.name === "loading" ? Math.min(0.35 * (x(span.to_s) - x(span.from_s)), 60 * u) : 0;
      namePhase(sheet, span.name, x(span.from_s) + inset, x(span.to_s), feet);
    }
  }
  notes(sheet, day, state, x);
  if (view.end_s === null && day.scale.height_N > sheet.full_N) {
    say(sheet, words.watch.offPaper, nib - 20 * u, 40 * u, { size: SIZE.word, anchor: "right" });
  }
}

/** What is too narrow for its numbers still has its number. @returns {number} as of `markPull` */
function onePull(sheet, pull, place, perS) {
  const { u } = sheet;
  const [left, right] = [place.x(pull.start_s), place.x(pull.end_s)];
  if (pull.aside !== null) {
    if (right - left > 60 * u) say(sheet, words.watch.aside, (left + right) / 2, sheet.base - 60 * u, { size: SIZE.word, colour: "aside", anchor: "center" });
    return 0;
  }
  if (right - left > 160 * u) return markPull(sheet, pull, place);
  if (right - left > 14 * u) {
    const top = yOf(sheet, Math.abs(pull.breakaway.value ?? pull.kinetic.value ?? 0));
    say(sheet, String(pull.number), (left + right) / 2, Math.max(30 * u, top - 12 * u), { size: SIZE.word, anchor: "center" });
  }
  return 0;
}

/** Holes along the foot of the paper, and where the numbers come from, printed between them. */
function punch(sheet, label, x, from_s, to_s, perS) {
  const { u, height, width } = sheet;
  const every_s = HOLE_EVERY_S.find((s) => s * perS >= 36 * u) ?? 3600;
  const row = height - 17 * u;
  const last_s = to_s + width / perS;
  const at = [];
  for (let s = Math.ceil(from_s / every_s) * every_s; s <= last_s && at.length < 200; s += every_s) at.push(x(s));
  holes(sheet, at, row);
  if (!label) return;
  const text = words.labels[label] ?? label;
  const need = widthOf(sheet, text, SIZE.desk) + 30 * u;
  const each = Math.ceil(need / (every_s * perS)); // so many holes apart, so that no letter meets a hole
  const stride_s = every_s * Math.max(each, 4);
  const printed_s = each > 1 ? 0 : 0.5 * every_s;
  for (let s = Math.ceil(from_s / stride_s - 1) * stride_s + printed_s; s <= last_s; s += stride_s) {
    say(sheet, text, x(s), row + 8 * u, { size: SIZE.desk, colour: "soft", weight: 500, anchor: "center", halo: each > 1 ? 24 : 0 });
  }
}

/** What was written on the paper besides the line: where the scale changed, where samples are missing. */
function notes(sheet, day, state, x) {
  const { u } = sheet;
  for (const { at_s, full_N } of day.scaleNotes) {
    say(sheet, words.watch.scaleGrew(gridText(full_N, full_N)), x(at_s) + 8 * u, 28 * u, { size: SIZE.desk, colour: "soft", weight: 500 });
  }
  for (const { kind, at_s } of state.news) {
    const text = words.news[kind];
    if (at_s === null || !text || x(at_s) < -200 * u) continue;
    const { c } = sheet;
    c.fillStyle = colours().edge;
    c.fillRect(x(at_s) - u, 0, 2 * u, sheet.height);
    say(sheet, text, x(at_s) + 8 * u, 28 * u, { size: SIZE.desk, colour: "soft" });
  }
}

/** The pen: up and down only. */
function pen({ sheet, plain }, x, y) {
  const { c, u, width, height } = sheet;
  const paint = colours();
  const at = Math.min(Math.max(y, 8 * u), height - 8 * u);
  c.fillStyle = paint.ink;
  if (plain) {
    c.beginPath();
    c.moveTo(x, at);
    c.lineTo(x + 16 * u, at - 7 * u);
    c.lineTo(x + 16 * u, at + 7 * u);
    c.fill();
    return;
  }
  const arm = Math.max(x + 40 * u, width - 22 * u);
  c.fillStyle = paint.edge;
  c.fillRect(arm - 3 * u, 0, 6 * u, height);
  c.fillStyle = paint.ink;
  c.beginPath();
  c.moveTo(x, at);
  c.bezierCurveTo(x + 16 * u, at - 5 * u, x + 26 * u, at - 15 * u, x + 44 * u, at - 15 * u);
  c.lineTo(arm - 8 * u, at - 15 * u);
  c.lineTo(arm - 8 * u, at + 15 * u);
  c.lineTo(x + 44 * u, at + 15 * u);
  c.bezierCurveTo(x + 26 * u, at + 15 * u, x + 16 * u, at + 5 * u, x, at);
  c.fill();
  c.beginPath();
  c.roundRect(arm - 18 * u, at - 26 * u, 36 * u, 52 * u, 6 * u);
  c.fill();
}
