/** Free-body view: a held-up pull is scrubbed by mouse, finger or arrow keys; the forces follow. */
import { html, useCallback, useEffect, useMemo, useRef, useState } from "./html.js";
import { Diagram } from "./freebody-diagram.js";
import { LoadForm, loadKept, queryOf } from "./freebody-load.js";
import { Pair } from "./freebody-pair.js";
import { Rider } from "./freebody-rider.js";
import { drawForcesTrace, heightAt } from "./freebody-trace.js";
import { words } from "./next-lesson-words.js";
import { FaultWords, Label } from "./parts.js";
import { Picture } from "./picture.js";
import { nearest } from "./points.js";
import { get, pullPath, Refused } from "./requests.js";
import { SheetHead } from "./ribbon.js";
import { pullHash } from "./routes.js";
import { amountAt } from "./steps.js";

const LEAP = 10; // samples, with Shift or by the page keys
const told = words.forces;

/** @param {{route: import("./routes.js").Route, day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Screen({ route, day, state }) {
  const number = route.pulls[0] ?? state.pulls.at(-1)?.number ?? 1;
  const on = route.day === state.day ? null : route.day;
  const live = on ? undefined : state.pulls.find((p) => p.number === number);
  const [load, setLoad] = useState(loadKept());
  const { record, fault } = useForces(number, on, load, live);
  return html`<main class="sheet forces">
    <${SheetHead} title=${told.title(number)} day=${day} state=${state}><${Label} label=${record?.label ?? null} /></${SheetHead}>
    ${record ? html`<${Scrubbed} key=${number} record=${record} />` : !fault && html`<p class="sheet-body">${told.loading}</p>`}
    <div class="fb-desk"><${LoadForm} load=${load} set=${setLoad} said_kg=${record?.said_kg ?? null} /><${FaultWords} fault=${fault} />
      <nav><a href=${pullHash([number], on)}>${told.sheet}</a> <a href="#required">${told.required}</a></nav></div>
  </main>`;
}

function useForces(number, on, load, live) {
  const [found, put] = useState(/** @type {{record: any, fault: any}} */ ({ record: null, fault: null }));
  useEffect(() => {
    if (live?.provisional) return undefined;
    let wanted = true;
    const path = pullPath(number, on, "/forces");
    get(path + (path.includes("?") ? "&" : "?") + queryOf(load)).then(
      (record) => wanted && put({ record, fault: null }),
      (refused) => wanted && put((was) => ({ record: was.record, fault: refused instanceof Refused ? refused.fault : null })),
    );
    return () => { wanted = false; };
  }, [number, on, load, live]);
  return found;
}

/** The strip with its flag, and the forces at the flag. */
function Scrubbed({ record }) {
  const [i, setIndex] = useState(firstMoment(record));
  const wanted = useRef(i);
  const frame = useRef(0);
  const last = record.time_s.length - 1;
  // A finger tells more often than the screen draws: the newest moment of each frame counts.
  const go = useCallback((/** @type {number} */ to) => {
    wanted.current = Math.min(Math.max(to, 0), last);
    if (!frame.current) frame.current = requestAnimationFrame(() => { frame.current = 0; setIndex(wanted.current); });
  }, [last]);
  useEffect(() => () => cancelAnimationFrame(frame.current), []);
  useEffect(() => {
    const keys = (/** @type {KeyboardEvent} */ event) => {
      const to = moved(event, wanted.current, last);
      if (to === null) return;
      event.preventDefault();
      event.stopImmediatePropagation(); // the arrows scrub here, whatever they command elsewhere
      go(to);
    };
    addEventListener("keydown", keys, true);
    return () => removeEventListener("keydown", keys, true);
  }, [go]);
  const at = Math.min(i, last);
  const stage = record.stages[record.stage[at]];
  const sentence = record.sentences[record.said[at]];
  const slides = stage.motion === "slides";
  const picture = useMemo(() => html`<${Picture} kind="fb-trace" of=${[record]} draw=${(on) => drawForcesTrace(on, record)}
    describe=${told.trace(0, (record.time_s[last] - record.time_s[0]).toFixed(1))} />`, [record]);
  return html`<${Strip} record=${record} at=${at} go=${go} stage=${stage} sentence=${sentence}>${picture}</${Strip}>
    <div class="fb-body"><${Diagram} record=${record} i=${at} slides=${slides} /><${Larger} record=${record} i=${at} slides=${slides} /></div>
    <p class="fb-said">${sentence}</p>`;
}

/** The forces along the board enlarged, or the rider alone: whoever types a rider wants to see it. */
function Larger({ record, i, slides }) {
  const [asked, setLarger] = useState("rider");
  if (!record.rider) return html`<${Pair} record=${record} i=${i} slides=${slides} />`;
  return html`<div class="fb-larger"><div role="group" aria-label=${told.larger}>${Object.entries(told.bodies).map(([body, word]) => html`
      <button aria-pressed=${body === asked ? "true" : "false"} onClick=${() => setLarger(body)}>${word}</button>`)}</div>
    <${asked === "rider" ? Rider : Pair} record=${record} i=${i} slides=${slides} /></div>`;
}

function firstMoment(record) {
  const s = record.breakaway_s === null ? (record.time_s[0] + record.time_s.at(-1)) / 2 : record.breakaway_s - 0.34;
  return nearest(record.time_s, s);
}

/** @returns {number|null} where a key moves to */
function moved(event, from, last) {
  const target = /** @type {HTMLElement} */ (event.target);
  if (event.ctrlKey || event.metaKey || event.altKey || target.matches?.("input, select, textarea")) return null;
  const step = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
  if (step !== undefined) return from + step * (event.shiftKey ? LEAP : 1);
  if (target.getAttribute?.("role") !== "slider") return null;
  return { Home: 0, End: last, PageUp: from + LEAP, PageDown: from - LEAP }[event.key] ?? null;
}

function Strip({ record, at, go, stage, sentence, children }) {
  const place = useRef(/** @type {HTMLElement|null} */ (null));
  const [from_s, to_s] = [record.time_s[0], record.time_s.at(-1)];
  const share = (record.time_s[at] - from_s) / (to_s - from_s);
  const began_s = record.stages.find((one) => one.name === "loading")?.from_s ?? from_s;
  const since = record.time_s[at] - began_s;
  const into = since < 0 ? told.before(seconds(-since)) : told.into(seconds(since));
  const toBreak = record.breakaway_s === null ? null : record.breakaway_s - record.time_s[at];
  const held = stage.motion === "slides" ? record.slid : record.friction;
  const numbers = [`${told.pull} ${amountAt(record.pull, at, "N")}`,
    held.steps?.[at] == null ? told.unknownFriction : `${told.friction} ${amountAt(held, at, "N", true)}`].join(", ");
  const scrub = (/** @type {PointerEvent} */ event) => {
    const box = place.current?.getBoundingClientRect();
    if (!box) return;
    place.current?.querySelector("button")?.focus({ preventScroll: true });
    const put = (e) => go(nearest(record.time_s, from_s + ((e.clientX - box.left) / box.width) * (to_s - from_s)));
    put(event);
    const target = /** @type {HTMLElement} */ (event.currentTarget);
    target.setPointerCapture(event.pointerId);
    target.onpointermove = put;
    target.onlostpointercapture = () => { target.onpointermove = null; };
    event.preventDefault();
  };
  return html`<div class="fb-strip" ref=${place} onPointerDown=${scrub}>
    ${children}
    <p class="fb-word" aria-hidden="true"><b>${words.stages[stage.name]}</b><span>${toBreak === null ? into : toBreak >= 0 ? told.toBreak(seconds(toBreak)) : told.afterBreak(seconds(-toBreak))}</span></p>
    <div class="fb-line" style=${{ left: `${100 * share}%` }}><i style=${{ top: `${100 * heightAt(record, at)}%` }}></i></div>
    <button class="fb-flag" role="slider" style=${{ left: `${100 * share}%` }} aria-label=${told.moment} aria-valuemin="0" aria-valuemax=${record.time_s.length - 1}
      aria-valuenow=${at} aria-valuetext=${told.at(into, words.stages[stage.name], sentence, numbers)}></button>
  </div>`;
}

const seconds = (/** @type {number} */ s) => s.toFixed(2);
