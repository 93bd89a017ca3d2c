/** From forces to points on the paper: pairs of pixels, NaN where the pen is lifted. */

/**
 * Points of strip columns. A column whose least and greatest fall on one pixel is one point, else two, in
 * the order in which they are nearer to the point before.
 *
 * @param {Float32Array} pairs least and greatest of each column @param {number} count columns
 * @param {(column: number) => number} x @param {(force_N: number) => number} y
 * @param {number} sign 1 or -1 @param {number} bridge columns without a sample that the pen still joins
 * @param {Float32Array} xy room for 2 points and a lift for each column
 * @returns {number} points written
 */
export function columnPoints(pairs, count, x, y, sign, bridge, xy) {
  let [points, empty] = [0, 0];
  for (let i = 0; i < count; i += 1) {
    const least = pairs[2 * i];
    if (Number.isNaN(least)) {
      empty += 1;
      continue;
    }
    const at = x(i);
    if (empty > bridge && points) points = put(xy, points, at, NaN);
    empty = 0;
    const [a, b] = [y(sign * least), y(sign * pairs[2 * i + 1])];
    const before = points ? xy[2 * points - 1] : NaN;
    if (Math.abs(a - b) < 1) points = put(xy, points, at, (a + b) / 2);
    else if (Math.abs(a - before) < Math.abs(b - before)) points = put(xy, put(xy, points, at, a), at, b);
    else points = put(xy, put(xy, points, at, b), at, a);
  }
  return points;
}

function put(xy, points, x, y) {
  xy[2 * points] = x;
  xy[2 * points + 1] = y;
  return points + 1;
}

/**
 * @param {{time_s: number[], force_N: number[]}} trace @param {(time_s: number) => number} x
 * @param {(force_N: number) => number} y @param {number} sign @param {number} from_s @param {number} to_s
 * @returns {{xy: Float32Array, count: number}}
 */
export function tracePoints({ time_s, force_N }, x, y, sign, from_s = -Infinity, to_s = Infinity) {
  const xy = new Float32Array(4 * time_s.length);
  const gap_s = 6 * usualStep(time_s);
  let count = 0;
  for (let i = 0; i < time_s.length; i += 1) {
    if (time_s[i] < from_s || time_s[i] > to_s) continue;
    if (count && time_s[i] - time_s[i - 1] > gap_s) count = put(xy, count, x(time_s[i]), NaN);
    count = put(xy, count, x(time_s[i]), y(sign * force_N[i]));
  }
  return { xy, count };
}

/** @param {number[]} time_s rising @returns {number} the middle distance of two samples */
export function usualStep(time_s) {
  const steps = [];
  const every = Math.max(1, Math.floor(time_s.length / 200));
  for (let i = 1; i < time_s.length; i += every) steps.push(time_s[i] - time_s[i - 1]);
  steps.sort((a, b) => a - b);
  return steps[Math.floor(steps.length / 2)] || 0.01;
}

/** @param {number[]} time_s rising @param {number} at_s @returns {number} the sample nearest to a moment */
export function nearest(time_s, at_s) {
  let [low, high] = [0, time_s.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (time_s[middle] <= at_s) low = middle;
    else high = middle;
  }
  return at_s - time_s[low] <= time_s[high] - at_s ? low : high;
}
