/** A hand on the virtual bench: where pointer or keys want it, and where an arm really is. */

const ARM_S = 0.06; // an arm does not change its speed at once; it also hides the steps of a pointer
const WALK_M_S = 0.012; // arrow key held: a string stretches a few millimetres before the sled breaks away
const RUN_M_S = 0.04; // with Shift
const EASE_S = 0.25; // keys gain their speed in so long

export class Steering {
  /** @param {number} track_m how far the hand may go */
  constructor(track_m) {
    this.track_m = track_m;
    this.wanted_m = this.hand_m = this.speed_m_s = this.pressed = 0;
    this.fast = this.moved = false;
  }

  restart() {
    this.wanted_m = this.hand_m = this.speed_m_s = this.pressed = 0;
    this.fast = this.moved = false;
  }

  /** @param {number} place_m where the pointer holds the handle */
  point(place_m) {
    this.wanted_m = Math.min(Math.max(place_m, 0), this.track_m);
    this.moved ||= this.wanted_m > 0;
  }

  /** @param {-1|0|1} way @param {boolean} fast an arrow key is held, or none */
  press(way, fast) {
    this.pressed = way;
    this.fast = fast;
    this.moved ||= way > 0;
  }

  /** @param {number} step_s time since the last call @returns {number} where the hand is */
  advance(step_s) {
    const goal_m_s = this.pressed * (this.fast ? RUN_M_S : WALK_M_S);
    this.speed_m_s += (goal_m_s - this.speed_m_s) * Math.min(1, step_s / EASE_S);
    if (this.pressed || Math.abs(this.speed_m_s) > 1e-4) this.point(this.wanted_m + this.speed_m_s * step_s);
    this.hand_m += (this.wanted_m - this.hand_m) * (1 - Math.exp(-step_s / ARM_S));
    return this.hand_m;
  }
}
