/** A pupil's own slip: the ruler it is set on, and the token that lets this page change it. No name, nothing kept. */
import { fullScale, gridStep } from "./scale.js";

const ROOM = 1.6; // a guess may well lie over what has been seen
const FIRST_FULL_N = 8; // before any pull
const TICKS = 8;
const STEPS = 80; // places on the ruler: as fine as a thumb can set

/** @typedef {{full_N: number, tick_N: number, step_N: number, decimals: number}} RulerScale */

/** @param {number[]} heights_N of the pulls so far @returns {RulerScale} */
export function rulerScale(heights_N) {
  const most = Math.max(0, ...heights_N);
  const full_N = most > 0 ? fullScale((ROOM / 1.2) * most) : FIRST_FULL_N;
  const step_N = gridStep(full_N, STEPS, 0.999);
  return { full_N, tick_N: gridStep(full_N, TICKS, 0.999), step_N, decimals: Math.max(0, -Math.floor(Math.log10(step_N) + 1e-9)) };
}

/** @typedef {{value_N: number, plus_minus_N: number}} Guess */

/** @param {RulerScale} scale @returns {Guess} in the middle, and openly unsure */
export const firstGuess = ({ full_N, step_N }) => ({ value_N: steps(full_N / 2, step_N), plus_minus_N: steps(full_N / 8, step_N) });

/** @param {RulerScale} scale @param {Guess} guess @param {Partial<Guess>} moved @returns {Guess} on the ruler, in its steps, never without a plus or minus */
export function set({ full_N, step_N }, guess, moved) {
  const next = { ...guess, ...moved };
  return {
    value_N: Math.min(Math.max(steps(next.value_N, step_N), 0), full_N),
    plus_minus_N: Math.min(Math.max(steps(next.plus_minus_N, step_N), step_N), full_N),
  };
}

const steps = (/** @type {number} */ n, /** @type {number} */ step) => Number((Math.round(n / step) * step).toPrecision(12));

/** @param {RulerScale} scale @param {number} n @returns {string} */
export const typedText = ({ decimals }, n) => n.toFixed(decimals);

/** @returns {string} random, for this page only; works on a plain address of the room too */
export function makeToken() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((n) => n.toString(16).padStart(2, "0")).join("");
}

/** What this page has handed in, as long as the page lives. */
export const own = { token: "", question: "", guess: /** @type {Guess|null} */ (null), option: /** @type {string|null} */ (null), handed: false, scale: /** @type {RulerScale|null} */ (null) };

/** A new question begins with an empty slip. @param {string} question @param {boolean} open */
export function slipFor(question, open) {
  if (own.question !== question || (open && !own.token)) Object.assign(own, { token: makeToken(), question, guess: null, option: null, handed: false, scale: null });
  return own;
}
