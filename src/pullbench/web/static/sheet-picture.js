/** Pictures of a held-up pull: the whole of it, its close-up at the breakaway, and several laid on one strip. */
import { hang, holes, line, paper, point, say, scaleNumbers, SIZE, widthOf, yOf } from "./ink.js";
import { tracePoints, usualStep } from "./points.js";
import { markPull, namePhase } from "./pull-marks.js";
import { fullScale, gridStep, gridText } from "./scale.js";
import { spansOfPull } from "./spans.js";
import { colours, texture } from "./theme.js";
import { staticWords, kineticWords } from "./told.js";
import { words } from "./words.js";

const BEFORE_S = 1.2; // of the rest, so much is shown on either side
const AFTER_S = 0.9;
export const DASHES = [[], [18, 9], [4, 9], [26, 8, 4, 8], [10, 5]];

/** @typedef {import("./types.js").CardPlus} CardPlus */
/** @typedef {{from_s: number, to_s: number}} Stretch */

/** @param {CardPlus} card @returns {Stretch} */
export function wholeStretch({ trace, start_s, end_s }) {
  return { from_s: Math.max(trace.time_s[0], start_s - BEFORE_S), to_s: Math.min(/** @type {number} */ (trace.time_s.at(-1)), end_s + AFTER_S) };
}

/** A third of a second, or what holds two dozen samples. @param {CardPlus} card @returns {Stretch|null} */
export function closeStretch({ trace, breakaway }) {
  if (breakaway.at_s === null) return null;
  const half_s = Math.max(0.17, 12 * usualStep(trace.time_s));
  return { from_s: breakaway.at_s - half_s, to_s: breakaway.at_s + half_s };
}

const highest = (/** @type {CardPlus} */ { trace, direction }) => trace.force_N.reduce((most, f) => Math.max(most, f * direction), 0);

/** @param {any} on prepared canvas @param {CardPlus[]} cards @returns {import("./ink.js").Sheet} */
function sheetFor({ c, width, height, u }, cards) {
  const full_N = fullScale(Math.max(...cards.map(highest)) * 0.96);
  return { c, width, height, u, full_N, sign: cards[0].direction, base: height - 38 * u, top: 14 * u, said: [] };
}

/** @param {any} on @param {CardPlus} card @param {Stretch} stretch @param {Stretch|null} close the stretch that is enlarged beside it */
export function drawWhole(on, card, stretch, close) {
  const sheet = sheetFor(on, [card]);
  const { c, u, width, height, base } = sheet;
  const x = (t) => ((t - stretch.from_s) / (stretch.to_s - stretch.from_s)) * width;
  paper(sheet);
  const points = tracePoints(card.trace, x, (f) => yOf(sheet, f), card.direction, stretch.from_s, stretch.to_s);
  const spans = card.aside === null ? spansOfPull(card) : [];
  for (const span of spans) hang(sheet, points, span.name, x(span.from_s), x(span.to_s));
  if (card.aside !== null) hang(sheet, points, "aside", x(card.start_s), x(card.end_s));
  line(sheet, points, 5);
  punch(sheet, stretch, x, card.label);
  const feet = base - 11 * u;
  const crowded = markPull(sheet, card, { x, limit: width, phaseFoot: feet, points });
  for (const span of spans.filter((s) => !crowded || s.name === "loading")) namePhase(sheet, span.name, x(span.from_s) + (span.name === "loading" ? 0.3 * (x(span.to_s) - x(span.from_s)) : 0), x(span.to_s), feet);
  if (x(card.start_s) > 130 * u) namePhase(sheet, "rest", 60 * u, x(card.start_s), feet);
  if (width - x(card.end_s) > 90 * u) namePhase(sheet, "rest", x(card.end_s), width, feet);
  if (close) {
    c.fillStyle = colours().ink;
    c.fillRect(x(close.from_s), base - 3 * u, x(close.to_s) - x(close.from_s), 6 * u);
  }
  scaleNumbers(sheet);
  if (card.aside !== null) say(sheet, words.watch.aside, x(card.start_s) + 0.6 * (x(card.end_s) - x(card.start_s)), feet, { colour: "aside", anchor: "center" });
}

function punch(sheet, { from_s, to_s }, x, label, zero_s = from_s) {
  const { u, height, width } = sheet;
  const row = height - 17 * u;
  const at = [];
  for (let s = Math.ceil(from_s - zero_s); s + zero_s <= to_s; s += 1) at.push(x(s + zero_s));
  holes(sheet, at, row);
  if (label) say(sheet, words.labels[label] ?? label, width - 14 * u, row + 8 * u, { size: SIZE.desk, colour: "soft", weight: 500, anchor: "right", halo: 20 });
}

/** @param {any} on @param {CardPlus} card @param {Stretch} stretch */
export function drawClose({ c, width, height, u }, card, stretch) {
  const told = card.breakaway;
  const x = (t) => ((t - stretch.from_s) / (stretch.to_s - stretch.from_s)) * width;
  const inside = card.trace.force_N.filter((_, i) => card.trace.time_s[i] >= stretch.from_s && card.trace.time_s[i] <= stretch.to_s).map((f) => f * card.direction);
  const high = Math.max(...inside, told.high ?? -Infinity);
  const low = Math.min(...inside);
  const pad = Math.max(0.12 * (high - low), 0.01 * Math.abs(high), 1e-3);
  const y = (f) => 16 * u + ((high + pad - f) / (high - low + 2 * pad)) * (height - 66 * u);
  const sheet = /** @type {import("./ink.js").Sheet} */ ({ c, width, height, u, base: height, top: 0, full_N: 1, sign: card.direction });
  c.fillStyle = colours().paper;
  c.fillRect(0, 0, width, height);
  closeGrid(sheet, y, low, high + pad);
  if (told.low !== null && told.high !== null) {
    c.fillStyle = texture(c, "static-band", u) ?? colours().static;
    c.fillRect(0, y(told.high), width, Math.max(4 * u, y(told.low) - y(told.high)));
  }
  const some = tracePoints(card.trace, x, y, card.direction, stretch.from_s - 0.1, stretch.to_s + 0.1);
  line(sheet, some, 6);
  closeNumbers(sheet, y, low, high + pad);
  if (told.at_s !== null) {
    const at = told.value ?? high;
    point(sheet, x(told.at_s), y(Math.abs(at)), told.kind === "value");
    words.sheet.here.forEach((text, i) => say(sheet, text, 16 * u, Math.min(y(Math.abs(at)) + (88 + 40 * i) * u, height - (90 - 40 * i) * u), { colour: "static" }));
  }
}

function closeGrid(sheet, y, low, high) {
  const { c, u, width } = sheet;
  const step = gridStep(high - low, Math.abs(y(low) - y(high)), 60 * u);
  for (let k = Math.ceil(low / step); k * step <= high; k += 1) {
    c.fillStyle = colours()["grid-strong"];
    c.fillRect(0, y(k * step) - u, width, 2 * u);
  }
}

function closeNumbers(sheet, y, low, high) {
  const { u, width } = sheet;
  const step = gridStep(high - low, Math.abs(y(low) - y(high)), 60 * u);
  for (let k = Math.ceil(low / step); k * step <= high; k += 1) {
    say(sheet, `${gridText(sheet.sign * k * step, step)} N`, width - 14 * u, y(k * step) + 28 * u, { size: SIZE.desk, colour: "soft", weight: 500, anchor: "right", halo: 8 });
  }
}

/** Moment by which a pull is laid on the common strip. @param {CardPlus} card @returns {number} */
export const anchor = (card) => card.breakaway.at_s ?? card.phases.find((p) => p.name === "loading")?.from_s ?? card.start_s;

/** @param {any} on @param {CardPlus[]} cards */
export function drawCompared(on, cards) {
  const sheet = { ...sheetFor(on, cards), top: (10 + 38 * cards.length) * on.u }; // the names stand above the lines
  const { u, width, base, c } = sheet;
  const stretches = cards.map((card) => ({ card, ...wholeStretch(card) }));
  const before = Math.max(...stretches.map(({ card, from_s }) => anchor(card) - from_s));
  const after = Math.max(...stretches.map(({ card, to_s }) => to_s - anchor(card)));
  const x = (t) => ((t + before) / (before + after)) * width;
  paper(sheet);
  cards.forEach((card, i) => {
    const points = tracePoints(card.trace, (t) => x(t - anchor(card)), (f) => yOf(sheet, f), card.direction);
    line(sheet, points, 4, "ink", DASHES[i % DASHES.length]);
  });
  c.fillStyle = colours().static;
  c.fillRect(x(0) - u, 8 * u, 2 * u, base - 8 * u);
  punch(sheet, { from_s: -before, to_s: after }, x, cards.find((card) => card.label)?.label ?? null, 0);
  cards.forEach((card, i) => nameLine(sheet, card, i, x));
  scaleNumbers(sheet);
}

/** A pull's name and numbers, with a piece of its own line before them. */
function nameLine(sheet, card, i, x) {
  const { u, c } = sheet;
  const size = SIZE.word;
  const name = words.reading.pull(card.number);
  const whole = `${name}: ${staticWords(card)}, ${kineticWords(card)}`;
  const roomFor = sheet.width - 180 * u;
  const text = widthOf(sheet, whole, size) < roomFor ? whole : name; // the rows under the strip say the rest
  const left = Math.min(x(0) + 40 * u, sheet.width - widthOf(sheet, text, size) - 90 * u);
  const feet = (36 + 38 * i) * u;
  c.fillStyle = colours().paper;
  c.fillRect(left - 6 * u, feet - 27 * u, 76 * u, 34 * u);
  const xy = new Float32Array([left, feet - 9 * u, left + 60 * u, feet - 9 * u]);
  line(sheet, { xy, count: 2 }, 4, "ink", DASHES[i % DASHES.length]);
  say(sheet, text, left + 72 * u, feet, { size });
}
