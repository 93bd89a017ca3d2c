/** The vertical scale of the strip: changes in quiet only, in steps that people can count in. */

const STEPS = [1, 1.5, 2, 3, 4, 5, 6, 8];
const HEADROOM = 1.2; // the static maximum is written beside its point, and needs paper above it

/** @param {number} largest_N @returns {number} the full scale that holds it, in newtons */
export function fullScale(largest_N) {
  const need = Math.max(HEADROOM * largest_N, 1e-3);
  const decade = 10 ** Math.floor(Math.log10(need));
  const step = STEPS.find((s) => s * decade >= need - 1e-12);
  return step ? step * decade : 10 * decade;
}

/** @param {number} full_N @param {number} height how high the scale is drawn @param {number} apart least distance of lines
 *  @returns {number} newtons between two lines that carry a number */
export function gridStep(full_N, height, apart) {
  const least = (full_N * apart) / height;
  const decade = 10 ** Math.floor(Math.log10(least));
  return decade * (/** @type {number} */ ([1, 2, 5, 10].find((s) => s * decade >= least - 1e-12)));
}

/** @param {number} value_N a grid line @param {number} step_N @returns {string} its number, no more digits than it needs */
export function gridText(value_N, step_N) {
  const decimals = Math.max(0, -Math.floor(Math.log10(step_N) + 1e-9));
  return value_N.toFixed(decimals).replace(/^-(?=0(\.0*)?$)/, "").replace("-", "\u2212");
}

const PULLS = 5; // the scale fits the last of them
const STILL_S = 9; // what is higher has left the paper by then
const ROOMY = 0.5; // the scale comes down only when twice as large as it need be

/** Changes in quiet only, never during a pull: up at once, down when the last pulls leave half of it empty. */
export class RestScale {
  /** @param {number} full_N */
  constructor(full_N) {
    this.full_N = full_N;
    /** @type {number[]} heights of the last pulls */
    this.heights_N = [];
    this.height_N = 0;
    this.quiet_s = NaN;
  }

  /** A pull has been read. What the pen wrote of it may stand higher. @param {number} height_N */
  tell(height_N) {
    const most = Math.max(height_N, this.height_N);
    this.height_N = 0;
    if (most > 0) this.heights_N = [...this.heights_N, most].slice(-PULLS);
  }

  /** @returns {number} what the scale has to hold */
  get largest_N() {
    return Math.max(this.height_N, ...this.heights_N, 0);
  }

  /**
   * @param {number} force_N what the pen writes now @param {boolean} quiet @param {number} at_s bench time
   * @returns {boolean} whether the scale has just changed
   */
  see(force_N, quiet, at_s) {
    if (!quiet) {
      this.quiet_s = NaN;
      if (force_N > this.height_N) this.height_N = force_N;
      return false;
    }
    if (Number.isNaN(this.quiet_s)) this.quiet_s = at_s;
    const wanted = this.largest_N > 0 ? fullScale(this.largest_N) : this.full_N;
    const down = wanted <= ROOMY * this.full_N && at_s - this.quiet_s > STILL_S && this.heights_N.length === PULLS;
    if (wanted <= this.full_N && !down) return false;
    this.full_N = wanted;
    return true;
  }
}
