/** Fetches what of the strip is not in memory, when somebody looks at it. The watch does not notice. */
import { columnSeconds } from "./columns.js";
import { getStrip } from "./requests.js";

const MOST_COLUMNS = 4000;
const REST_MS = 150; // between questions: a hand that pans asks for a little at a time
const SORRY_MS = 3000;

export class Filler {
  /** @param {import("./columns.js").Columns} columns */
  constructor(columns) {
    this.columns = columns;
    this.busy = false;
    this.notBefore = 0;
  }

  /** @param {number} level @param {number} from_s @param {number} to_s the stretch in sight, up to the newest sample */
  look(level, from_s, to_s) {
    if (this.busy || performance.now() < this.notBefore) return;
    const column_s = columnSeconds(level);
    // A sliver at the edge of what is known is about to come by itself.
    const open = this.columns.missing(level, from_s, to_s).filter(([a, b]) => b - a > 2 * column_s);
    const last = open[open.length - 1];
    if (last) void this.#fetch(last, column_s);
  }

  async #fetch([from_s, to_s], column_s) {
    this.busy = true;
    const end = Math.ceil(to_s / column_s);
    const first = Math.max(Math.floor(from_s / column_s), end - MOST_COLUMNS);
    try {
      const frame = await getStrip(first * column_s, end * column_s, end - first);
      // The bench may round the length of a column; here it is known exactly.
      this.columns.add({ ...frame, start_s: first * column_s, column_s });
      this.notBefore = performance.now() + REST_MS;
    } catch {
      this.notBefore = performance.now() + SORRY_MS;
    } finally {
      this.busy = false;
    }
  }
}
