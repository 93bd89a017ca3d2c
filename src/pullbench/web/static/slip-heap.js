/** Where the slips of a class lie on one ruler: each at its value, piled where several say the same. Pure geometry, in picture units. */
import { fullScale } from "./scale.js";

export const WIDE = 1200;
const SLIP = { width: 30, height: 34, least: 4 };
const MOST_BARS = 12; // plus or minus of more slips than this are a blur

/** @typedef {{value_N: number, plus_minus_N: number|null}} Said */
/** @typedef {{x: number, level: number, half: number}} Laid  half: the plus or minus to either side, 0 when it is not drawn */

/** @param {Said[]} slips @param {number[]} also what else must be on the ruler @returns {number} */
export function rulerFull(slips, also) {
  const most = Math.max(0, ...slips.map((s) => s.value_N), ...also.filter(Number.isFinite));
  return fullScale(most > 0 ? most : 1);
}

/**
 * Every slip lies at its own value, as low as the others let it.
 * @param {Said[]} slips @param {number} full_N @param {number} tall how high a pile may grow
 * @returns {{laid: Laid[], width: number, height: number}} size of one slip of paper: lower when many lie on one another
 */
export function heaped(slips, full_N, tall) {
  const bars = slips.length <= MOST_BARS;
  const ends = /** @type {number[]} */ ([]); // of each level: where its last slip ends
  const sorted = [...slips].sort((a, b) => a.value_N - b.value_N);
  const laid = sorted.map(({ value_N, plus_minus_N }) => {
    const x = Math.min(Math.max(value_N / full_N, 0), 1) * WIDE;
    const half = bars ? ((plus_minus_N ?? 0) / full_N) * WIDE : 0;
    const reach = Math.max(half, SLIP.width / 2);
    const free = ends.findIndex((end) => end <= x - reach);
    const level = free < 0 ? ends.length : free;
    ends[level] = x + reach;
    return { x, level, half };
  });
  return { laid, width: SLIP.width - 4, height: Math.max(SLIP.least, Math.min(SLIP.height, tall / Math.max(1, ends.length))) };
}
