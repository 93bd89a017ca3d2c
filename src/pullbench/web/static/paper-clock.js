/**
 * How far the paper has come. Frames arrive in small bursts; the paper must not. This clock runs a little
 * behind the newest sample, at the pace at which samples come (a replay may be faster than life), and leans
 * gently towards where it should be, so that the paper moves steadily and never backwards.
 */

const LOOK_S = 2; // over which the pace is measured
const LAG_S = 0.09; // behind the newest sample: two to three frames, so that a late one is not seen
const LEAN_PER_S = 1.5; // share of the error that is made good in a second
const JUMP_S = 1.5; // beyond this the paper has been torn off (a new recording, a sleeping page): go there at once

export class PaperClock {
  constructor() {
    /** @type {{wall_s: number, end_s: number}[]} */
    this.seen = [];
    this.at_s = NaN;
    this.wall_s = NaN;
    this.pace = 1;
  }

  /** @param {number} wall_s steady clock of this page @param {number} end_s end of the newest column */
  see(wall_s, end_s) {
    const last = this.seen.at(-1);
    if (last && (end_s < last.end_s || end_s - last.end_s > JUMP_S * 4)) this.seen = [];
    this.seen.push({ wall_s, end_s });
    while (this.seen.length > 2 && wall_s - this.seen[0].wall_s > LOOK_S) this.seen.shift();
    const first = this.seen[0];
    if (wall_s - first.wall_s > 0.5) this.pace = (end_s - first.end_s) / (wall_s - first.wall_s);
  }

  /** @param {number} wall_s @returns {number} bench time under the pen; NaN before the first sample */
  now(wall_s) {
    const newest = this.seen.at(-1);
    if (!newest) return this.at_s;
    const lag_s = LAG_S * Math.max(1, this.pace);
    const due_s = Math.min(newest.end_s, newest.end_s - lag_s + this.pace * (wall_s - newest.wall_s));
    if (!(Math.abs(due_s - this.at_s) < JUMP_S * Math.max(1, this.pace))) this.at_s = due_s;
    else {
      const step_s = Math.min(0.25, Math.max(0, wall_s - this.wall_s));
      const pace_s = this.pace * step_s + (due_s - this.at_s) * Math.min(1, LEAN_PER_S * step_s);
      this.at_s = Math.min(Math.max(this.at_s, newest.end_s), this.at_s + Math.max(0, pace_s));
    }
    this.wall_s = wall_s;
    return this.at_s;
  }
}
