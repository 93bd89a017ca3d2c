/** The strip as a component: draws at the screen's pace, and lets hands look back and closer. */
import { html, useEffect, useRef } from "./html.js";
import { prepared } from "./canvas.js";
import { heightOf } from "./day.js";
import { drawStrip } from "./strip-picture.js";
import { fullScale } from "./scale.js";
import { panned, zoomed } from "./view.js";
import { words } from "./words.js";

const CALM_S = 1; // reduced motion: the paper steps once a second
const FAR_S = 1 / 15; // seen from afar the paper hardly moves, and there is much of it
const FAR_SPAN_S = 120;
const calm = matchMedia("(prefers-reduced-motion: reduce)");

/**
 * @typedef {object} StripProps
 * @property {import("./day.js").Day} day @property {import("./view.js").View} view
 * @property {(view: import("./view.js").View) => void} [look] the view has been moved by hand
 * @property {boolean} [ribbon] a small one, for the head of a sheet @property {boolean} [mute] another strip sounds @property {string} [describe] in words
 */

/** @param {StripProps} props */
export function Strip({ day, view, look, ribbon = false, mute = false, describe = words.watch.strip }) {
  const canvas = useRef(/** @type {HTMLCanvasElement|null} */ (null));
  const now = useRef({ view, look });
  now.current = { view, look };

  useEffect(() => {
    let frame = 0;
    let calmed_s = -Infinity;
    const draw = () => {
      frame = requestAnimationFrame(draw);
      const on = canvas.current && prepared(canvas.current);
      if (!on) return;
      const wall_s = performance.now() / 1000;
      const at_s = day.clock.now(wall_s);
      if (wall_s - calmed_s < (calm.matches ? CALM_S : now.current.view.span_s > FAR_SPAN_S ? FAR_S : 0)) return;
      calmed_s = wall_s;
      picture(day, now.current.view, at_s, on, ribbon, mute);
    };
    frame = requestAnimationFrame(draw);
    return () => { cancelAnimationFrame(frame); day.sound.follow("quiet", 0, 1); };
  }, [day, ribbon]);

  useHands(canvas, day, now);
  return html`<canvas ref=${canvas} class=${ribbon ? "ribbon-strip" : "strip"} role="img" aria-label=${describe}></canvas>`;
}

function picture(day, view, now_s, { c, width, height, u, wide }, ribbon, mute) {
  const state = day.store.get();
  const nib = width - (ribbon ? 20 : wide ? 128 : 70) * u;
  const sheet = {
    c, width, height, u, full_N: view.end_s === null ? day.scale.full_N : fullInView(day, state.pulls, view), sign: signOf(state.pulls),
    base: height - (ribbon ? 10 : 42) * u, top: (ribbon ? 6 : 18) * u, said: [],
  };
  const { force_N } = drawStrip({ sheet, day, view, now_s, nib, plain: ribbon });
  // Looking back or at a sheet stops neither the tone nor the scale.
  const now_N = view.end_s === null ? force_N : (state.force?.value_N ?? NaN) * sheet.sign;
  if (mute) return;
  day.sound.follow(state.onWatch ? state.state : "quiet", now_N, day.scale.full_N);
  const quiet = state.state === "quiet" || state.state === "let go";
  if (day.scale.see(now_N, quiet, now_s)) day.scaleNotes.push({ at_s: now_s, full_N: day.scale.full_N });
}

/** Looking back, the scale fits what is looked at. */
function fullInView(day, pulls, { end_s, span_s }) {
  const seen = pulls.filter((/** @type {any} */ p) => p.start_s < end_s + 0.2 * span_s && p.end_s > end_s - span_s);
  return seen.length ? fullScale(Math.max(...seen.map(heightOf))) : day.scale.full_N;
}

/** A sensor may read negative when pulled: the paper is turned so that a pull goes up. The numbers keep their sign. */
const signOf = (/** @type {import("./types.js").Card[]} */ pulls) => pulls.at(-1)?.direction ?? 1;

/** Drag to look back, wheel or two fingers to look closer. */
function useHands(canvas, day, now) {
  useEffect(() => {
    const element = canvas.current;
    if (!element || !now.current.look) return undefined;
    /** @type {Map<number, number>} */
    const fingers = new Map();
    const nowS = () => day.clock.now(performance.now() / 1000);
    const move = (/** @type {import("./view.js").View} */ view) => now.current.look?.(view);
    const seconds = (px) => (px / element.clientWidth) * now.current.view.span_s;
    const spread = () => Math.abs([...fingers.values()].reduce((a, b) => a - b));
    const on = {
      pointerdown: (/** @type {PointerEvent} */ e) => {
        fingers.set(e.pointerId, e.clientX);
        element.setPointerCapture(e.pointerId);
      },
      pointermove: (/** @type {PointerEvent} */ e) => {
        const before = fingers.get(e.pointerId);
        if (before === undefined) return;
        const apart = fingers.size === 2 ? spread() : 0;
        fingers.set(e.pointerId, e.clientX);
        if (apart > 0) move(zoomed(now.current.view, Math.max(spread(), 8) / apart, 0.5, nowS()));
        else if (fingers.size === 1) move(panned(now.current.view, seconds(before - e.clientX), nowS()));
      },
      pointerup: (/** @type {PointerEvent} */ e) => fingers.delete(e.pointerId),
      pointercancel: (/** @type {PointerEvent} */ e) => fingers.delete(e.pointerId),
      wheel: (/** @type {WheelEvent} */ e) => {
        e.preventDefault();
        if (Math.abs(e.deltaX) > Math.abs(e.deltaY)) move(panned(now.current.view, seconds(e.deltaX), nowS()));
        else move(zoomed(now.current.view, 1.0015 ** -e.deltaY, e.offsetX / element.clientWidth, nowS()));
      },
    };
    for (const [name, act] of Object.entries(on)) element.addEventListener(name, /** @type {EventListener} */ (act), { passive: false });
    return () => {
      for (const [name, act] of Object.entries(on)) element.removeEventListener(name, /** @type {EventListener} */ (act));
    };
  }, [day]);
}
