/**
 * The strip held in memory: least and greatest force of every column, at ten levels of detail.
 *
 *   level 0: columns of 10 ms;  level n: columns of 10 ms * 4^n
 *   a level is a map of tiles of 512 columns, made when first written
 *
 * An hour is 360 000 columns of level 0: under 4 MB with all levels, and no zoom ever reads more than
 * a few thousand columns.
 */
import { missing, withoutStretch, withStretch } from "./intervals.js";

export const COLUMN_S = 0.01;
const FACTOR = 4;
const LEVELS = 10;
const TILE = 512;
const KEPT_TILES = 1000; // of level 0: 85 minutes; what is older is asked for again when looked at
const JOIN_S = 0.13; // frames of a slow sensor begin at its next sample: that is no hole

/** @param {number} level @returns {number} seconds in a column of this level */
export const columnSeconds = (level) => COLUMN_S * FACTOR ** level;

/** @param {number} seconds wanted in a column @returns {number} the coarsest level that is no coarser */
export function levelFor(seconds) {
  const level = Math.floor(Math.log(seconds / COLUMN_S) / Math.log(FACTOR) + 1e-9);
  return Math.min(Math.max(level, 0), LEVELS - 1);
}

export class Columns {
  constructor() {
    /** @type {Map<number, Float32Array>[]} tiles by number: pairs of least and greatest, NaN where no sample */
    this.levels = Array.from({ length: LEVELS }, () => new Map());
    /** @type {import("./intervals.js").Stretch[][]} what is known, by level */
    this.known = Array.from({ length: LEVELS }, () => []);
    /** End of the newest column, in bench seconds. */
    this.end_s = -Infinity;
    /** End of the newest live column: what was fetched is no part of that row. */
    this.live_s = -Infinity;
  }

  /**
   * Take a frame. It is written at its own level and all coarser ones.
   * @param {{start_s: number, column_s: number, pairs: Float32Array, count: number}} frame
   * @param {boolean} [live] one of a row that has no holes, although a slow sensor's frames do not touch
   */
  add({ start_s, column_s, pairs, count }, live = false) {
    if (!count) return;
    const own = Math.round(Math.log(column_s / COLUMN_S) / Math.log(FACTOR));
    if (own < 0 || own >= LEVELS) return;
    const first = Math.round(start_s / columnSeconds(own));
    for (let i = 0; i < count; i += 1) {
      if (!Number.isNaN(pairs[2 * i])) this.#write(own, first + i, pairs[2 * i], pairs[2 * i + 1]);
    }
    const end_s = start_s + count * column_s;
    const joins = live && start_s > this.live_s && start_s - this.live_s < JOIN_S;
    const from_s = joins ? this.live_s : start_s;
    if (live) this.live_s = end_s;
    for (let level = own; level < LEVELS; level += 1) this.known[level] = withStretch(this.known[level], from_s, end_s, column_s / 4);
    this.end_s = Math.max(this.end_s, end_s);
    if (own === 0) this.#forget();
  }

  #write(own, column, least, greatest) {
    for (let level = own, at = column; level < LEVELS; level += 1, at = Math.floor(at / FACTOR)) {
      const tile = this.#tile(level, Math.floor(at / TILE));
      const slot = 2 * (at - TILE * Math.floor(at / TILE));
      // Written so that NaN, which compares false, gives way to the first number.
      if (!(tile[slot] <= least)) tile[slot] = least;
      if (!(tile[slot + 1] >= greatest)) tile[slot + 1] = greatest;
    }
  }

  #tile(level, number) {
    let tile = this.levels[level].get(number);
    if (!tile) this.levels[level].set(number, (tile = new Float32Array(2 * TILE).fill(NaN)));
    return tile;
  }

  #forget() {
    const tiles = this.levels[0];
    while (tiles.size > KEPT_TILES) {
      const oldest = Math.min(...tiles.keys());
      tiles.delete(oldest);
      this.known[0] = withoutStretch(this.known[0], oldest * TILE * COLUMN_S, (oldest + 1) * TILE * COLUMN_S);
    }
  }

  /** Frames were dropped on the way: what came since then has to be asked for. @param {number} from_s */
  doubt(from_s) {
    this.live_s = -Infinity;
    this.known = this.known.map((stretches) => withoutStretch(stretches, from_s, Infinity));
  }

  /** @returns {import("./intervals.js").Stretch[]} what of a stretch is not here at this level */
  missing(level, from_s, to_s) {
    return missing(this.known[level], Math.max(0, from_s), to_s);
  }

  /**
   * Read columns of a level into `out`, pairs of least and greatest.
   * @param {number} level @param {number} first number of the first column @param {number} count
   * @param {Float32Array} out at least 2 * count long
   */
  read(level, first, count, out) {
    for (let i = 0; i < count; ) {
      const number = Math.floor((first + i) / TILE);
      const slot = first + i - TILE * number;
      const run = Math.min(TILE - slot, count - i);
      const tile = this.levels[level].get(number);
      if (tile) out.set(tile.subarray(2 * slot, 2 * (slot + run)), 2 * i);
      else out.fill(NaN, 2 * i, 2 * (i + run));
      i += run;
    }
  }
}
