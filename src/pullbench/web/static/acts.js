/** What each command does. Commands that change the day ask the bench; the rest only moves the page. */
import { numbersIn } from "./commands.js";
import { post, Refused } from "./requests.js";
import { pullHash } from "./routes.js";
import { endOf, following, panned, zoomed } from "./view.js";
import { flipRoom, fullScreen } from "./room.js";
import { massIn } from "./setting.js";
import { tiltIn } from "./typed-tilt.js";
import { words } from "./words.js";

/**
 * @typedef {object} Page what commands work on
 * @property {import("./day.js").Day} day
 * @property {() => import("./routes.js").Route} route
 * @property {() => import("./view.js").View} view @property {(v: import("./view.js").View) => void} look
 * @property {(open: boolean) => void} prompt @property {(text: string) => void} caption
 * @property {(text: string) => void} search
 */

const go = (hash) => { location.hash = hash; };

/** @param {Page} page @returns {(id: string, rest?: string) => void} */
export function makeActs(page) {
  const { day } = page;
  const now_s = () => day.clock.now(performance.now() / 1000);
  const pulls = () => day.store.get().pulls.map((p) => p.number);
  const order = async (path, body = {}) => {
    try {
      const answer = (await post(path, body)) ?? {};
      if (day.store.get().fault) day.store.take({ kind: "error", error: null });
      return answer;
    } catch (refused) {
      if (refused instanceof Refused) day.store.take({ kind: "error", error: refused.fault });
      return null;
    }
  };
  const beside = (step) => {
    const all = pulls();
    const { screen, pulls: [held] } = page.route();
    if (screen !== "pull") return all.length ? go(pullHash([/** @type {number} */ (all.at(-1))])) : undefined;
    const wanted = all[all.indexOf(held) + step];
    return go(wanted === undefined || !all.includes(held) ? "#bench" : pullHash([wanted]));
  };
  const shift = (share) => page.look(panned(page.view(), share * page.view().span_s, now_s()));
  const closer = (factor) => page.look(zoomed(page.view(), factor, 0.5, Math.max(0, endOf(page.view(), now_s()))));
  const onSheet = (what) => dispatchEvent(new CustomEvent("pullbench-sheet", { detail: what }));
  const sound = (/** @type {import("./sound.js").Kind} */ kind) => page.caption(day.sound.flip(kind));

  const refuse = (what, allowed, next_step) => day.store.take({ kind: "error", error: { code: "page", what, allowed, next_step } });
  const mass = (name, rest) => {
    const { wrong, allowed, again, whichLoad, sayIt } = words.setting;
    const kg = massIn(rest);
    if (kg === null) return rest ? refuse(wrong(rest), allowed, again) : refuse(whichLoad, allowed, sayIt);
    return order("setting", { [name]: kg });
  };
  const tilt = (rest) => {
    go("#tilt");
    if (!rest) return undefined;
    const typed = tiltIn(rest);
    return typed ? order("tilt", typed) : refuse(words.tilt.notAnAngle(rest), words.tilt.allowed, words.tilt.again);
  };
  const predict = (rest) => {
    go("#prediction");
    const values = (rest.match(/\d+(?:[.,]\d+)?/g) ?? []).map((n) => Number(n.replace(",", ".")));
    return values.length ? order("prediction/hands", { values }) : undefined;
  };
  const onward = () => {
    const stage = day.store.get().prediction?.state;
    if (stage === "open") return order("prediction/commit");
    return stage === "committed" ? order("prediction/reveal") : undefined;
  };

  /** @type {Record<string, (rest: string) => unknown>} */
  const acts = {
    hold: (rest) => {
      const [number] = numbersIn(rest).length ? numbersIn(rest) : pulls().slice(-1);
      if (number) go(pullHash([number]));
    },
    next: () => beside(1),
    previous: () => beside(-1),
    compare: (rest) => {
      if (!numbersIn(rest).length) return go("#surfaces");
      const held = page.route().pulls;
      const numbers = [...new Set([...(numbersIn(rest).length > 1 ? [] : held), ...numbersIn(rest)])];
      return go(pullHash(numbers, page.route().day));
    },
    ladder: () => go("#ladder"), surfaces: () => go("#surfaces"), tilt, predict, onward,
    forces: (rest) => {
      const [number] = [...numbersIn(rest), ...page.route().pulls, ...pulls().slice(-1)];
      return number ? go(pullHash([number], page.route().day).replace("#pull", "#forces")) : undefined;
    },
    required: () => go("#required"), sheets: () => go("#sheets"), items: () => go("#items"), review: () => go("#review"),
    nextLoad: () => order("setting", { next: true }),
    load: (rest) => mass("load_kg", rest), sled: (rest) => mass("sled_kg", rest), step: (rest) => mass("step_kg", rest),
    surface: (rest) => (rest ? order("setting", { surface: rest }) : refuse(words.setting.whichSurface, "", words.setting.sayIt)),
    commit: () => order("prediction/commit"), reveal: () => order("prediction/reveal"), clear: () => order("prediction/clear"),
    bench: () => (page.route().screen === "bench" ? page.look(following(page.view())) : go("#bench")),
    check: () => go("#check"), rehearsal: () => go("#rehearsal"), logbook: () => go("#logbook"), help: () => go("#help"), join: () => go("#join"),
    search: (rest) => { page.search(rest); go("#logbook"); },
    go: () => order("watch/go"), down: () => order("watch/stand-down"), null: async () => { if (await order("null")) page.caption(words.check.nulled); },
    masses: () => go("#check"),
    room: () => flipRoom(), full: () => fullScreen(),
    tone: () => sound("tone"), click: () => sound("click"), voice: () => sound("voice"),
    type: () => page.prompt(true),
    closer: () => closer(2), wider: () => closer(0.5), earlier: () => shift(-0.25), later: () => shift(0.25),
    pen: () => page.look(following(page.view())),
    why: () => onSheet("why"), aside: (rest) => onSheet(`aside ${rest}`.trim()), back: () => onSheet("back"),
    breakaway: () => onSheet("breakaway"), sliding: () => onSheet("from"), unmark: () => onSheet("unmark"),
  };
  return (id, rest = "") => void acts[id]?.(rest);
}
