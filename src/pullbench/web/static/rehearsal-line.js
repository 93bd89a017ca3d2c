/** The virtual bench behind a rehearsal: its socket, and a strip of its own that is no part of the day. */
import { Columns, COLUMN_S } from "./columns.js";
import { socketAddress } from "./connection.js";
import { kept } from "./kept.js";
import { PaperClock } from "./paper-clock.js";
import { RestScale } from "./scale.js";
import { START } from "./state.js";
import { Steering } from "./steering.js";

const FULL_N = 6;
const TRACK_M = 0.24;
const STEP_S = 1 / 30; // of the samples that the bench sends
const HELD_N = 0.05;

/**
 * @typedef {object} Seen what the room sees of a rehearsal
 * @property {"opening"|"ready"|"pulling"|"reading"|"read"|"closed"} stage
 * @property {number} sled_m @property {boolean} sliding @property {boolean} slack
 * @property {import("./types.js").Force|null} force
 * @property {import("./types.js").CardPlus|null} card @property {any} truth @property {string|null} sorry
 */

/** @type {Seen} */
const FIRST = { stage: "opening", sled_m: 0, sliding: false, slack: true, force: null, card: null, truth: null, sorry: null };

export class RehearsalLine {
  /** @param {import("./sound.js").Sound} sound @param {(seen: Seen) => void} show */
  constructor(sound, show) {
    this.show = show;
    this.seen = FIRST;
    this.steering = new Steering(TRACK_M);
    this.began_s = NaN;
    this.live = { ...START, label: /** @type {const} */ ("simulated"), check: /** @type {any} */ ({ step_s: STEP_S }) };
    /** Looks like the day to the strip that draws it. */
    this.day = /** @type {any} */ ({
      store: { get: () => this.live }, columns: new Columns(), clock: new PaperClock(), scale: new RestScale(FULL_N),
      filler: { look() {} }, sound, scaleNotes: [],
    });
    this.socket = new WebSocket(socketAddress("rehearse", location));
    this.socket.onopen = () => this.again();
    this.socket.onmessage = (event) => this.#take(JSON.parse(event.data));
    this.socket.onclose = () => this.#see({ stage: "closed" });
  }

  #see(/** @type {Partial<Seen>} */ change) {
    this.seen = { ...this.seen, ...change };
    this.show(this.seen);
  }

  #say(/** @type {unknown} */ message) {
    if (this.socket.readyState === WebSocket.OPEN) this.socket.send(JSON.stringify(message));
  }

  again() {
    this.steering.restart();
    this.began_s = NaN;
    this.day.columns = new Columns();
    this.day.clock = new PaperClock();
    this.live = { ...this.live, pulls: [], history: [], state: "quiet" };
    this.#see({ ...FIRST });
    this.#say({ go: { bench: "default" }, key: kept.key, code: kept.code });
  }

  /** Called at the screen's pace while a pull may be made. @param {number} wall_s @param {number} step_s */
  move(wall_s, step_s) {
    if (this.seen.stage !== "ready" && this.seen.stage !== "pulling") return;
    const hand_m = this.steering.advance(Math.min(step_s, 0.1));
    if (Number.isNaN(this.began_s)) this.began_s = wall_s;
    if (this.seen.stage === "ready" && this.steering.moved) this.#see({ stage: "pulling" });
    this.#say({ x: [[wall_s - this.began_s, hand_m]] });
  }

  /** @param {number} wall_s */
  letGo(wall_s) {
    if (this.seen.stage !== "pulling") return;
    this.#say({ let_go: wall_s - this.began_s });
    this.#see({ stage: "reading" });
  }

  close() {
    this.socket.onclose = null;
    this.socket.close();
  }

  #take(message) {
    if (message.ready) this.#see({ stage: "ready" });
    else if (message.kind === "error") this.#see({ stage: "closed", sorry: `${message.error.what} ${message.error.next_step}` });
    else if (message.no_pull) this.#see({ stage: "read", sorry: message.no_pull });
    else if (message["card+"]) this.#read(message["card+"], message.truth);
    else if (Number.isFinite(message.t)) this.#sample(message);
  }

  #read(card, truth) {
    this.live = { ...this.live, pulls: [card], state: "quiet" };
    this.#unroll(card.trace);
    this.#see({ stage: "read", card, truth, sliding: false, slack: true, force: null });
  }

  /** The recording that was read takes the place of what was seen live: it has the rest after the pull. */
  #unroll({ time_s, force_N }) {
    const columns = new Columns();
    time_s.forEach((t, i) => {
      const start_s = Math.floor(t / COLUMN_S) * COLUMN_S;
      columns.add({ start_s, column_s: COLUMN_S, count: 1, pairs: new Float32Array([force_N[i], force_N[i]]) });
    });
    this.day.columns = columns;
    this.day.clock = new PaperClock();
    this.day.clock.see(performance.now() / 1000, columns.end_s);
  }

  #sample({ t, force_N, sled_m, sliding, slack, text, plus_minus }) {
    const { columns, clock } = this.day;
    const start_s = Math.floor(t / COLUMN_S) * COLUMN_S;
    columns.add({ start_s, column_s: COLUMN_S, count: 1, pairs: new Float32Array([force_N, force_N]) }, true);
    clock.see(performance.now() / 1000, columns.end_s);
    const state = sliding ? "sliding" : slack || force_N < HELD_N ? "quiet" : "loading";
    if (state !== this.live.state) {
      if (state === "sliding") this.day.sound.brokeAway();
      this.live = { ...this.live, state, history: [...this.live.history, { state, at_s: t }] };
    }
    const force = { text: text ?? "", plus_minus: plus_minus ?? null, unit: "N", value_N: force_N };
    this.#see({ sled_m, sliding, slack, force: text ? force : this.seen.force });
  }
}
