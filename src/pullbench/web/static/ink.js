/**
 * Drawing on paper: the line, its textures, words with bare paper round them. Everything here works on a
 * `Sheet` (where the paper is and how large a picture unit is) and on points, pairs of pixels in one array.
 */
import { colours, texture } from "./theme.js";
import { gridStep, gridText } from "./scale.js";

/**
 * @typedef {object} Sheet
 * @property {CanvasRenderingContext2D} c
 * @property {number} width @property {number} height in css pixels
 * @property {number} u css pixels in a picture unit
 * @property {number} base y of 0 N @property {number} top y of the full scale
 * @property {number} full_N full scale @property {number} sign 1, or -1 when pulling reads negative
 * @property {Box[]} [said] where words stand in this picture, if it keeps count of them
 */

/** @typedef {{left: number, right: number, top: number, foot: number}} Box */

/** @param {Box} a @param {Box} b @returns {boolean} */
export const meet = (a, b) => a.left < b.right && b.left < a.right && a.top < b.foot && b.top < a.foot;

/** Textures hang under the line this deep, in units; under sliding they are flat-footed. */
const DEPTH = /** @type {Record<string, number>} */ ({ loading: 104, settling: 56, sliding: 46, "stick-slip": 56 });
export const SIZE = { onLine: 36, word: 28, desk: 22 };

/** @param {Sheet} sheet @param {number} force_N along the pull @returns {number} */
export const yOf = (sheet, force_N) => sheet.base - (force_N / sheet.full_N) * (sheet.base - sheet.top);

/** Numbers are never crowded, and seven are enough. @param {Sheet} sheet */
const apart = ({ base, top, u }) => Math.max(44 * u, (base - top) / 7);

/** @param {Sheet} sheet */
export function paper(sheet) {
  const { c, width, height, u, full_N, base, top } = sheet;
  const paint = colours();
  c.fillStyle = paint.paper;
  c.fillRect(0, 0, width, height);
  const step_N = gridStep(full_N, base - top, apart(sheet));
  for (let k = 1; k * step_N * 0.5 <= full_N * 1.2; k += 1) {
    rule(c, yOf(sheet, k * step_N * 0.5), width, k % 2 ? paint.grid : paint["grid-strong"], (k % 2 ? 1.5 : 2) * u);
  }
  rule(c, base, width, paint.edge, 2 * u);
}

/** @param {Sheet} sheet numbers stand on their lines, over what is drawn; one that would stand on a word is left out */
export function scaleNumbers(sheet) {
  const { c, u, full_N, base, top, sign } = sheet;
  const step_N = gridStep(full_N, base - top, apart(sheet));
  for (let k = 0; k * step_N <= full_N * 1.2; k += 1) {
    const y = yOf(sheet, k * step_N);
    if (y < 24 * u) break;
    const text = `${gridText(sign * k * step_N, step_N)} N`;
    const own = boxOf(sheet, text, 14 * u, y - 7 * u, SIZE.desk, 500, "left");
    if (sheet.said?.some((word) => meet(own, word))) continue;
    say(sheet, text, 14 * u, y - 7 * u, { size: SIZE.desk, colour: "soft", weight: 500, halo: 6 });
  }
}

function rule(c, y, width, colour, weight) {
  c.strokeStyle = colour;
  c.lineWidth = Math.max(1, weight);
  c.beginPath();
  c.moveTo(0, y);
  c.lineTo(width, y);
  c.stroke();
}

/**
 * @typedef {object} Points
 * @property {Float32Array} xy pairs of pixels, NaN where the pen was lifted @property {number} count pairs used
 */

/** @param {Sheet} sheet @param {Points} points @param {number} weight in units @param {string} [colour] @param {number[]} [dash] */
export function line({ c, u }, { xy, count }, weight, colour = "ink", dash = []) {
  c.strokeStyle = colours()[colour];
  c.lineWidth = Math.max(1.5, weight * u);
  c.lineJoin = c.lineCap = "round";
  c.setLineDash(dash.map((d) => d * u));
  c.beginPath();
  let down = false;
  for (let i = 0; i < count; i += 1) {
    const y = xy[2 * i + 1];
    if (Number.isNaN(y)) down = false;
    else if (down) c.lineTo(xy[2 * i], y);
    else {
      c.moveTo(xy[2 * i], y);
      down = true;
    }
  }
  c.stroke();
  c.setLineDash([]);
}

/**
 * Hang a phase's texture under the line.
 * @param {Sheet} sheet @param {Points} points @param {string} name of the phase
 * @param {number} left @param {number} right in pixels @param {number} shift how far the paper has moved
 */
export function hang(sheet, { xy, count }, name, left, right, shift = 0) {
  const { c, u, base } = sheet;
  const paint = texture(c, name, u, shift);
  if (!paint || right - left < 4 * u) return;
  const first = firstFrom(xy, count, left);
  const last = firstFrom(xy, count, right) - 1;
  if (last <= first) return;
  const flat = name === "sliding" || name === "stick-slip";
  const depth = DEPTH[name] * u;
  const foot = flat ? middle(xy, first, last) + depth : 0;
  c.fillStyle = paint;
  c.beginPath();
  let begun = false;
  for (let i = first; i <= last; i += 1) {
    const y = xy[2 * i + 1];
    if (!Number.isNaN(y)) begun ? c.lineTo(xy[2 * i], Math.min(y, base)) : (c.moveTo(xy[2 * i], Math.min(y, base)), (begun = true));
  }
  for (let i = last; i >= first; i -= 1) {
    const y = xy[2 * i + 1];
    if (!Number.isNaN(y)) c.lineTo(xy[2 * i], Math.min(flat ? Math.max(foot, y) : y + depth, base));
  }
  c.fill();
}

/** The first point at or after a pixel; points run from left to right. */
function firstFrom(xy, count, left) {
  let [low, high] = [0, count];
  while (low < high) {
    const half = (low + high) >> 1;
    if (xy[2 * half] < left) low = half + 1;
    else high = half;
  }
  return low;
}

/** The middle of a stretch, from a few of its points: a foot that does not follow every ripple. */
function middle(xy, first, last) {
  const some = [];
  const step = Math.max(1, Math.floor((last - first) / 60));
  for (let i = first; i <= last; i += step) if (!Number.isNaN(xy[2 * i + 1])) some.push(xy[2 * i + 1]);
  some.sort((a, b) => a - b);
  return some[Math.floor(some.length / 2)] ?? 0;
}

/** @typedef {{size?: number, colour?: string, weight?: number, halo?: number, anchor?: CanvasTextAlign}} Hand */

/** @type {Map<string, number>} widths are asked for sixty times a second */
const widths = new Map();

const font = (/** @type {number} */ weight, /** @type {number} */ px) => `${weight} ${px}px Commissioner, system-ui, sans-serif`;

/** @param {Sheet} sheet @param {string} text @param {number} [size] in units @param {number} [weight] @returns {number} pixels */
export function widthOf({ c, u }, text, size = SIZE.onLine, weight = 680) {
  const key = `${weight} ${size} ${text}`;
  let width = widths.get(key);
  if (width === undefined) {
    if (widths.size > 500) widths.clear();
    c.font = font(weight, 100);
    width = (c.measureText(text).width * size) / 100;
    widths.set(key, width);
  }
  return width * u;
}

/** What words cover, with a little bare paper about them. */
function boxOf(sheet, text, x, y, size, weight, anchor) {
  const { u } = sheet;
  const width = widthOf(sheet, text, size, weight);
  const left = anchor === "right" ? x - width : anchor === "center" ? x - width / 2 : x;
  return { left: left - 6 * u, right: left + width + 6 * u, top: y - (0.76 * size + 2) * u, foot: y + 0.2 * size * u };
}

/** @param {Sheet} sheet @param {string} text @param {number} x @param {number} y of the letters' feet @param {Hand} [hand] */
export function say(sheet, text, x, y, { size = SIZE.onLine, colour = "ink", weight = 680, halo = 12, anchor = "left" } = {}) {
  const { c, u } = sheet;
  sheet.said?.push(boxOf(sheet, text, x, y, size, weight, anchor));
  c.font = font(weight, size * u);
  c.textAlign = anchor;
  c.lineJoin = "round";
  if (halo) {
    c.strokeStyle = colours().paper;
    c.lineWidth = halo * u;
    c.strokeText(text, x, y);
  }
  c.fillStyle = colours()[colour];
  c.fillText(text, x, y);
}

/** Static maximum: a round point, an open ring when it cannot be told. @param {Sheet} sheet */
export function point({ c, u }, x, y, told) {
  c.beginPath();
  c.arc(x, y, 9 * u, 0, 2 * Math.PI);
  if (told) {
    c.fillStyle = colours().static;
    c.fill();
    return;
  }
  c.fillStyle = colours().paper;
  c.fill();
  c.strokeStyle = colours().static;
  c.lineWidth = 4 * u;
  c.stroke();
}

/** @param {Sheet} sheet @param {number} x @param {number} top @param {number} foot @param {string} colour a dotted plumb line */
export function plumb({ c, u }, x, top, foot, colour) {
  c.strokeStyle = colours()[colour];
  c.lineWidth = 4 * u;
  c.setLineDash([2 * u, 9 * u]);
  c.beginPath();
  c.moveTo(x, top);
  c.lineTo(x, foot);
  c.stroke();
  c.setLineDash([]);
}

/** The kinetic level: a line with a diamond at its start. @param {Sheet} sheet */
export function level({ c, u }, left, right, y) {
  c.strokeStyle = c.fillStyle = colours().kinetic;
  c.lineWidth = 4 * u;
  c.beginPath();
  c.moveTo(left, y);
  c.lineTo(right, y);
  c.stroke();
  for (const x of [left, right]) {
    c.beginPath();
    c.moveTo(x - 8 * u, y);
    c.lineTo(x, y - 8 * u);
    c.lineTo(x + 8 * u, y);
    c.lineTo(x, y + 8 * u);
    c.fill();
  }
}

/** Punched holes: one a second is time without an axis. @param {Sheet} sheet @param {number[]} xs @param {number} y */
export function holes({ c, u }, xs, y) {
  c.fillStyle = colours().room;
  for (const x of xs) {
    c.beginPath();
    c.arc(x, y, 6.5 * u, 0, 2 * Math.PI);
    c.fill();
  }
}
