/** What the page knows of the day, and how a message changes it. A pure function of state and message. */

/**
 * @typedef {object} State
 * @property {"connecting"|"open"|"lost"|"refused"} connection @property {number} retry_s
 * @property {boolean} greeted @property {number} seq
 * @property {"teacher"|"watcher"} role @property {string} day @property {string} source
 * @property {import("./types.js").Label} label
 * @property {boolean} onWatch @property {string|null} since @property {string|null} stoodDown
 * @property {string} state @property {{state: string, at_s: number}[]} history
 * @property {import("./types.js").Force|null} force
 * @property {import("./types.js").Card[]} pulls in order of number
 * @property {number|null} fresh number of the pull whose verdict came while this page was open
 * @property {import("./types.js").News[]} news
 * @property {import("./types.js").Check|null} check @property {import("./types.js").Join|null} join
 * @property {import("./types.js").Fault|null} fault
 * @property {import("./setting.js").Setting|null} setting what is on the sled now, and on what it stands
 * @property {import("./types.js").Prediction|null} prediction @property {import("./types.js").TiltReading[]} tilt
 */

/** @type {State} */
export const START = {
  connection: "connecting", retry_s: 0, greeted: false, seq: 0, role: "watcher", day: "", source: "", label: null,
  onWatch: true, since: null, stoodDown: null, state: "quiet", history: [], force: null, pulls: [], fresh: null, news: [],
  check: null, join: null, fault: null, setting: null, prediction: null, tilt: [],
};

const HISTORY = 60; // states: more than a pull and its neighbours ever have
const NEWS = 200;

/** @param {State} state @param {any} message @returns {State} */
export function after(state, message) {
  const seq = Number.isInteger(message.seq) ? message.seq : state.seq;
  const change = CHANGES[message.kind];
  return change ? { ...state, seq, ...change(message, state) } : state;
}

/** @type {Record<string, (m: any, s: State) => Partial<State>>} */
const CHANGES = {
  hello: (m, s) => ({
    connection: "open", greeted: true, role: m.role, day: m.day, source: m.source, label: m.label ?? null,
    state: m.state, onWatch: m.on_watch ?? true, since: m.since ?? null, check: m.check ?? null, join: m.join ?? null,
    pulls: [...m.pulls].sort((a, b) => a.number - b.number), news: m.news ?? [], fault: null,
    setting: m.setting ?? null, prediction: m.prediction ?? null, tilt: m.tilt ?? [],
    // A page that comes back keeps the states it saw; a new one starts from the present state.
    history: s.greeted ? s.history : [{ state: m.state, at_s: m.now_s }],
    stoodDown: (m.on_watch ?? true) ? null : (m.sentence ?? s.stoodDown ?? ""),
  }),
  state: (m, s) => ({
    fault: null, state: m.state, history: [...s.history, { state: m.state, at_s: m.at_s }].slice(-HISTORY),
    ...(m.on_watch ? { onWatch: true, stoodDown: null } : {}),
  }),
  force: (m) => ({ force: { text: m.text, plus_minus: m.plus_minus ?? null, unit: m.unit, value_N: m.value_N } }),
  pull: (m, s) => ({
    pulls: [...s.pulls.filter((p) => p.number !== m.pull.number), m.pull].sort((a, b) => a.number - b.number),
    fresh: s.pulls.some((p) => p.number === m.pull.number) ? s.fresh : m.pull.number,
  }),
  news: (m, s) => ({ news: [...s.news, m.news].slice(-NEWS) }),
  check: (m) => ({ check: m.check }),
  setting: (m) => ({ setting: m.setting ?? null }),
  prediction: (m) => ({ prediction: m.prediction ?? null }),
  tilt: (m) => ({ tilt: m.tilt ?? [] }),
  "stood down": (m) => ({ onWatch: false, stoodDown: m.sentence }),
  error: (m) => ({ fault: m.error }),
  // The page's own: what its socket does.
  line: (m) => ({ connection: m.connection, retry_s: m.retry_s ?? 0 }),
};

/** @typedef {ReturnType<typeof makeStore>} Store */

export function makeStore() {
  let state = START;
  /** @type {Set<() => void>} */
  const listeners = new Set();
  return {
    get: () => state,
    /** @param {any} message */
    take(message) {
      const next = after(state, message);
      if (next === state) return;
      state = next;
      for (const listener of listeners) listener();
    },
    /** @param {() => void} listener @returns {() => void} */
    subscribe(listener) {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
  };
}
