/** The pitch of a force: one octave for every doubling, the full scale of the strip three octaves above the least. */

const TOP_HZ = 880; // the full scale: below what hurts, above the room's hum
const LEAST_HZ = 80; // small loudspeakers end there

/** @param {number} force_N @param {number} full_N full scale of the strip @returns {number} Hz */
export function pitch(force_N, full_N) {
  const share = Math.max(Math.abs(force_N), 1e-9) / full_N;
  return Math.min(Math.max(TOP_HZ * share, LEAST_HZ), 2 * TOP_HZ);
}

/** @param {string} state @returns {boolean} whether the tone sounds */
export const sounding = (state) => state === "sliding" || state === "stick-slip";
