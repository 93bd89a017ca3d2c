/** The class's slips beside the outcome: numbers on one ruler, words as rows of paper. */
import { html } from "./html.js";
import { gridStep, gridText } from "./scale.js";
import { heaped, rulerFull, WIDE } from "./slip-heap.js";
import { words } from "./words.js";

const LEFT = 40;
const HEAP = 220; // height of the highest pile
const FLOOR = 306;
const HEIGHT = 356;

/** What it was, as the bench tells it. @param {import("./types.js").Outcome} outcome @returns {string} */
export const outcomeWords = ({ pull, told, label }) => `${pull === null ? "" : `${words.reading.pull(pull)}: `}${told}${label ? `, ${words.labels[label] ?? label}` : ""}`;

/** @param {{told: import("./types.js").Prediction}} props */
export function RevealedNumbers({ told }) {
  const slips = told.slips ?? [];
  const { outcome } = told;
  const full_N = rulerFull(slips, [Math.abs(outcome?.value_N ?? 0)]);
  const { laid, width, height } = heaped(slips, full_N, HEAP);
  const step = gridStep(full_N, WIDE, 150);
  const series = told.quantity === "static_N" ? "static" : "kinetic";
  const x = (/** @type {number} */ n) => LEFT + Math.min(Math.max(n / full_N, 0), 1) * WIDE;
  const describe = `${words.prediction.ruler(slips.length)}. ${told.sentence ?? ""}`;
  const ticks = Array.from({ length: Math.floor(full_N / step + 1e-9) + 1 }, (_, k) => k * step);
  return html`<div class="law-picture" role="img" aria-label=${describe} tabindex="0"><svg class="law-svg" viewBox=${`0 0 1280 ${HEIGHT}`}>
    <rect class="paper" width="1280" height=${HEIGHT} />
    ${ticks.map((n) => html`<path class="grid-line" d=${`M${x(n)},60V${FLOOR}`} /><text x=${x(n)} y=${FLOOR + 36} class="on-ruler" text-anchor="middle">${gridText(n, step)} N</text>`)}
    <path class="rule" d=${`M0,${FLOOR}H1280`} />
    ${laid.map(({ x: at, level, half }) => html`${half > 0 && html`<path class="slip-bar" d=${`M${Math.max(0, LEFT + at - half)},${FLOOR - (level + 0.5) * height}H${Math.min(1280, LEFT + at + half)}`} />`}
      <rect class="slip-said" x=${LEFT + at - width / 2} y=${FLOOR - (level + 1) * height + 1} width=${width} height=${Math.max(2, height - 2)} />`)}
    ${outcome?.value_N != null && html`<${Outcome} outcome=${outcome} series=${series} x=${x} />`}
  </svg></div>`;
}

/** Static: a round point and rising hatch; kinetic: a diamond and level dashes. */
function Outcome({ outcome, series, x }) {
  const value = Math.abs(outcome.value_N);
  const at = x(value);
  const [from, to] = [outcome.low_N ?? value, outcome.high_N ?? value].map((n) => x(Math.abs(n))).sort((a, b) => a - b);
  const wide = Math.max(to - from, 8);
  const end = at > 640;
  return html`<rect x=${(from + to - wide) / 2} y="60" width=${wide} height=${FLOOR - 60} fill=${`url(#${series}-band)`} class=${`rim-${series}`} />
    <path class=${`outcome-line line-${series}`} d=${`M${at},56V${FLOOR}`} />
    ${series === "static" ? html`<circle cx=${at} cy="52" r="10" class="fill-static" />` : html`<path d=${`M${at - 12},52l12,-12l12,12l-12,12Z`} class="fill-kinetic" />`}
    <text x=${end ? at - 24 : at + 24} y="46" text-anchor=${end ? "end" : "start"} class=${`outcome-word fill-${series}`}>${outcomeWords(outcome)}</text>`;
}

/** @param {{told: import("./types.js").Prediction}} props */
export function RevealedWords({ told }) {
  const counts = told.counts ?? {};
  const most = Math.max(1, ...Object.values(counts));
  const right = told.outcome?.option ?? null;
  return html`<ul class="word-counts">${told.options.map((o) => html`<li class=${o === right ? "right" : ""}>
    <span class="option-name">${o}</span>
    <span class="option-bar"><svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true"><rect class="paper" width=${(100 * (counts[o] ?? 0)) / most} height="10" /></svg></span>
    <b class="option-count">${counts[o] ?? 0} <span class="unseen">${words.prediction.slips(counts[o] ?? 0)}</span></b>
    <span class="option-right">${o === right && html`<span class="stamped usable"><span class="stamp-word">${words.prediction.pulled}</span></span>`}</span></li>`)}</ul>`;
}
