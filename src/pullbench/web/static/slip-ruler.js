/** The ruler of a slip, standing up: one flag for the number, one that stretches the mark. By thumb or by arrow keys. */
import { html, useRef } from "./html.js";
import { typedText } from "./own-slip.js";
import { gridText } from "./scale.js";
import { words } from "./words.js";

const HIGH = 400; // units of the drawing
const [TOP, FOOT] = [26, 374];

/**
 * @param {{scale: import("./own-slip.js").RulerScale, guess: import("./own-slip.js").Guess, series: "static"|"kinetic",
 *   move?: (moved: Partial<import("./own-slip.js").Guess>) => void, outcome?: {value: number, text: string}|null}} props
 *   without `move` nothing on it can be moved any more
 */
export function SlipRuler({ scale, guess, series, move, outcome = null }) {
  const place = useRef(/** @type {HTMLElement|null} */ (null));
  const { full_N, tick_N } = scale;
  const y = (/** @type {number} */ n) => FOOT - (n / full_N) * (FOOT - TOP);
  const at = (/** @type {number} */ clientY) => {
    const box = /** @type {HTMLElement} */ (place.current).getBoundingClientRect();
    return ((FOOT - ((clientY - box.top) / box.height) * HIGH) / (FOOT - TOP)) * full_N;
  };
  const ticks = Array.from({ length: Math.floor((2 * full_N) / tick_N + 1e-9) + 1 }, (_, k) => (k * tick_N) / 2);
  const { value_N, plus_minus_N } = guess;
  const [top, foot] = [y(Math.min(value_N + plus_minus_N, full_N)), y(Math.max(value_N - plus_minus_N, 0))];
  const [value, doubt] = [typedText(scale, value_N), typedText(scale, plus_minus_N)];
  // Both flags stay on the paper and clear of one another.
  const valueY = Math.min(Math.max(y(value_N), TOP + 14), FOOT - 14);
  const stretchUp = valueY > HIGH / 2;
  const edge = stretchUp ? top : foot;
  const doubtY = stretchUp ? Math.max(Math.min(edge, valueY - 66), TOP) : Math.min(Math.max(edge, valueY + 66), FOOT);
  return html`<div class=${`slip-ruler ${move ? "" : "fixed"}`} ref=${place} role="group" aria-label=${words.slip.ruler}>
    <svg viewBox=${`0 0 350 ${HIGH}`} preserveAspectRatio="none" aria-hidden="true"><rect class="paper" width="350" height=${HIGH} />
      ${ticks.map((n, k) => html`<path class="rule" d=${`M0,${y(n)}h${k % 2 ? 11 : 22}`} />`)}
      <rect x="70" y=${top} width="70" height=${Math.max(2, foot - top)} fill=${`url(#${series}-band)`} class=${`rim-${series}`} />
      <path class=${`outcome-line line-${series}`} d=${`M70,${y(value_N)}H152`} />${outcome && html`<path class="ink" d=${`M60,${y(outcome.value)}H350`} />`}${move && html`<path class="rule" d=${`M140,${y(value_N)}L166,${valueY}M140,${edge}L166,${doubtY}`} />`}</svg>
    ${ticks.filter((_, k) => k % 2 === 0).map((n) => html`<span class="ruler-number" aria-hidden="true" style=${{ top: `${(100 * y(n)) / HIGH}%` }}>${gridText(n, tick_N)}${n === 0 ? " N" : ""}</span>`)}
    ${outcome && html`<span class="ruler-outcome" style=${{ top: `${(100 * y(outcome.value)) / HIGH}%` }}>${outcome.text}</span>`}
    ${!move && html`<span class=${`ruler-yours t-${series}`} style=${{ top: `${(100 * y(value_N)) / HIGH}%` }}>${words.slip.yoursShort}</span>`}
    ${move && html`<${Mark} name=${words.slip.value} text=${words.slip.mark(value)} series=${series} y=${valueY} at=${at} max=${full_N} step=${scale.step_N} now=${value_N} held=${value_N} set=${(n) => move({ value_N: n })} pointed=${(n) => move({ value_N: n })} />
    <${Mark} name=${words.slip.doubt} text=${words.slip.doubtOf(doubt)} series=${series} y=${doubtY} at=${at} max=${full_N} step=${scale.step_N} now=${plus_minus_N} held=${stretchUp ? value_N + plus_minus_N : value_N - plus_minus_N} set=${(n) => move({ plus_minus_N: n })}
      pointed=${(n) => move({ plus_minus_N: stretchUp ? n - value_N : value_N - n })} />`}
  </div>`;
}

const FAR = 10; // steps for Page Up and Page Down

function Mark({ name, text, series, y, at, max, step, now, held, set, pointed }) {
  const keys = (event) => {
    const by = /** @type {Record<string, number>} */ ({ ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: FAR, PageDown: -FAR })[event.key];
    if (by) set(now + by * step);
    else if (event.key === "Home") set(0);
    else if (event.key === "End") set(max);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const grab = (event) => {
    const flag = /** @type {HTMLElement} */ (event.currentTarget);
    flag.setPointerCapture(event.pointerId);
    flag.focus();
    const off = at(event.clientY) - held;
    const follow = (e) => latest.current(at(e.clientY) - off);
    const release = () => { flag.removeEventListener("pointermove", follow); flag.removeEventListener("lostpointercapture", release); };
    flag.addEventListener("pointermove", follow);
    flag.addEventListener("lostpointercapture", release);
  };
  const latest = useRef(pointed);
  latest.current = pointed; // the mark may have moved since it was grabbed
  return html`<button class="ruler-flag" role="slider" aria-orientation="vertical" aria-label=${name} aria-valuemin="0" aria-valuemax=${max} aria-valuenow=${now} aria-valuetext=${text}
    style=${{ top: `${(100 * y) / HIGH}%` }} onPointerDown=${grab} onKeyDown=${keys}><span class=${`t-${series}`}>${name}</span> <b>${text}</b></button>`;
}
