/** Which stretch of the strip is looked at. Looking back moves this, and nothing else. */

export const LEAST_SPAN_S = 0.5;
export const LONGEST_SPAN_S = 8 * 3600;

/**
 * @typedef {object} View
 * @property {number} span_s how much paper is in sight
 * @property {number|null} end_s where it ends; null follows the pen
 */

/** @param {View} view @param {number} now_s @returns {number} */
export const endOf = (view, now_s) => (view.end_s === null ? now_s : Math.min(view.end_s, now_s));

/** @param {View} view @param {number} seconds to the later side @param {number} now_s @returns {View} */
export function panned(view, seconds, now_s) {
  const end_s = endOf(view, now_s) + seconds;
  if (end_s >= now_s) return { ...view, end_s: null };
  return { ...view, end_s: Math.max(end_s, Math.min(view.span_s, now_s)) };
}

/**
 * @param {View} view @param {number} factor above 1: closer
 * @param {number} share where it stays put: 0 at the left edge of the view, 1 at its end
 * @param {number} now_s @returns {View}
 */
export function zoomed(view, factor, share, now_s) {
  const span_s = Math.min(Math.max(view.span_s / factor, LEAST_SPAN_S), LONGEST_SPAN_S);
  // What follows the pen goes on following it: the watch is not interrupted by looking closer.
  if (view.end_s === null) return { span_s, end_s: null };
  const still_s = endOf(view, now_s) - (1 - share) * view.span_s;
  return panned({ span_s, end_s: still_s + (1 - share) * span_s }, 0, now_s);
}

/** @param {View} view @returns {View} */
export const following = (view) => ({ ...view, end_s: null });
