/** Paper flags under the strip: where it broke away, where it slid. Moved by hand, or one sample a press. */
import { html, useRef } from "./html.js";
import { nearest } from "./points.js";
import { secondsText } from "./told.js";
import { words } from "./words.js";

const LEAP = 10; // samples, with Shift or by Page keys of a slider

/**
 * @param {object} props
 * @param {string} props.id @param {string} props.name @param {string} [props.short] for a narrow place @param {"left"|"right"} props.side on which the flag hangs
 * @param {number} props.at_s @param {[number, number]} props.within where it may go
 * @param {number[]} props.time_s samples it may stand on @param {{from_s: number, to_s: number}} props.stretch in sight
 * @param {number} props.start_s of the pull @param {boolean} props.fixed @param {(at_s: number) => void} props.move
 */
export function Flag({ id, name, short = name, side, at_s, within, time_s, stretch, start_s, fixed, move }) {
  const own = useRef(/** @type {HTMLElement|null} */ (null));
  const share = (at_s - stretch.from_s) / (stretch.to_s - stretch.from_s);
  const text = words.sheet.at(secondsText(at_s - start_s));
  const put = (s) => move(time_s[nearest(time_s, Math.min(Math.max(s, within[0]), within[1]))]);
  const by = (samples) => {
    const index = Math.min(Math.max(nearest(time_s, at_s) + samples, 0), time_s.length - 1);
    put(time_s[index]);
  };
  const keys = (event) => {
    const step = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    by(step * (event.shiftKey ? LEAP : 1));
  };
  const drag = (event) => {
    const flag = own.current;
    const strip = flag?.parentElement?.getBoundingClientRect();
    if (!flag || !strip) return;
    flag.focus();
    flag.setPointerCapture(event.pointerId);
    const held = event.clientX - (strip.left + share * strip.width); // where on the flag the hand is
    const follow = (e) => put(stretch.from_s + ((e.clientX - held - strip.left) / strip.width) * (stretch.to_s - stretch.from_s));
    const end = () => { flag.removeEventListener("pointermove", follow); flag.removeEventListener("lostpointercapture", end); };
    flag.addEventListener("pointermove", follow);
    flag.addEventListener("lostpointercapture", end);
  };
  const style = { left: `${100 * share}%` };
  if (fixed) return html`<span class=${`flag ${side}`} style=${style}>${short}</span>`;
  return html`<button ref=${own} class=${`flag ${side}`} style=${style} data-flag=${id} role="slider" aria-label=${name}
    aria-valuemin=${within[0] - start_s} aria-valuemax=${within[1] - start_s} aria-valuenow=${at_s - start_s} aria-valuetext=${text}
    onKeyDown=${keys} onPointerDown=${drag}>${short}</button>`;
}
