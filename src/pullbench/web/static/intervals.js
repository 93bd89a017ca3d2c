/** Stretches of time, sorted and apart: which of the strip is already here, and which is missing. */

/** @typedef {[number, number]} Stretch  from and to, in seconds */

/**
 * @param {Stretch[]} stretches sorted and apart
 * @param {number} from @param {number} to
 * @param {number} [join] stretches nearer than this become one
 * @returns {Stretch[]}
 */
export function withStretch(stretches, from, to, join = 0) {
  if (!(to > from)) return stretches;
  /** @type {Stretch[]} */
  const kept = [];
  let [low, high] = [from, to];
  for (const [a, b] of stretches) {
    if (b < low - join || a > high + join) kept.push([a, b]);
    else [low, high] = [Math.min(low, a), Math.max(high, b)];
  }
  kept.push([low, high]);
  return kept.sort((p, q) => p[0] - q[0]);
}

/** @param {Stretch[]} stretches @param {number} from @param {number} to @returns {Stretch[]} */
export function withoutStretch(stretches, from, to) {
  return stretches.flatMap(([a, b]) => {
    if (b <= from || a >= to) return [/** @type {Stretch} */ ([a, b])];
    /** @type {Stretch[]} */
    const left = [];
    if (a < from) left.push([a, from]);
    if (b > to) left.push([to, b]);
    return left;
  });
}

/** @param {Stretch[]} stretches @param {number} from @param {number} to @returns {Stretch[]} what they leave open */
export function missing(stretches, from, to) {
  return stretches.reduce((open, [a, b]) => withoutStretch(open, a, b), to > from ? [/** @type {Stretch} */ ([from, to])] : []);
}
