/** The forces along the board, enlarged for the back row: string against floor, and how much is to spare. */
import { html } from "./html.js";
import { Arrow, Wall } from "./freebody-arrows.js";
import { unitsPerNewton } from "./freebody-diagram.js";
import { words } from "./next-lesson-words.js";
import { amountAt, fromNought, largest, valueAt } from "./steps.js";

const CENTRE = 310;
const LONGEST = 250;
const ROUND = [10, 8, 6, 5, 4, 3, 2, 1];
const told = words.forces;

/** How many times larger than the diagram beside it. @param {any} record */
export function enlarged(record) {
  const per_N = unitsPerNewton(record);
  const longest = per_N * Math.max(largest(record.along), largest(record.friction), largest(record.slid), largest(record.limit_N), record.slope ? Math.abs(record.slope.value) : 0, 1e-9);
  return ROUND.find((n) => n * longest <= LONGEST) ?? LONGEST / longest;
}

/** @param {{record: any, i: number, slides: boolean}} props */
export function Pair({ record, i, slides }) {
  const times = enlarged(record);
  const per_N = times * unitsPerNewton(record);
  const along = Math.max(0, valueAt(record.along, i) ?? 0);
  const friction = valueAt(slides ? record.slid : record.friction, i);
  const kind = slides ? "kinetic" : "static";
  const back = friction !== null && friction < 0;
  const level = record.tilt_deg === 0 && record.string_deg === 0;
  const heading = times >= 1 ? (level ? told.level(times) : told.times(times)) : told.times(1);
  return html`<svg class="fb-pair" viewBox="0 0 620 400" role="img" aria-label=${told.paper}>
    <rect class="paper" width="620" height="400" />
    <text class="desk" x="24" y="36">${heading}${record.label ? html`<tspan class="strong">${`, ${words.labels[record.label] ?? record.label}`}</tspan>` : ""}</text>
    <path class="rule" stroke-dasharray="4 6" d=${`M${CENTRE},92V300`} />
    <${Arrow} x=${CENTRE} y=${134} angle=${0} length=${along * per_N} thick=${22} />
    <text class="end" x="296" y="98">${told.pull}</text>
    <text class="on-line" x="314" y="98">${amountAt(record.along, i, "N")}</text>
    ${record.slope && html`<${Arrow} x=${CENTRE} y=${188} angle=${record.slope.value > 0 ? 180 : 0} length=${Math.abs(record.slope.value) * per_N} thick=${12} />
      <text class="desk" x="324" y="196">${told.slope} ${record.slope.whole}</text>`}
    ${friction === null ? html`<text class="end" x="296" y="264">${told.unknownFriction}</text>`
    : html`${!slides && valueAt(record.limit_N, i) !== null && html`<${Wall} x=${CENTRE - (back ? -1 : 1) * valueAt(record.limit_N, i) * per_N} y=${258} way=${back ? 1 : -1} half=${Number(record.limit_N.plus_minus ?? 0) * per_N} high=${104} />`}
      <${Arrow} x=${CENTRE} y=${258} angle=${back ? 0 : 180} length=${Math.abs(friction) * per_N} kind=${kind} thick=${22} />
      <text class=${back ? "end" : ""} x=${back ? 286 : 332} y="244">${slides ? told.slid : told.friction}</text>
      <text class=${`on-line t-${kind} ${back ? "end" : ""}`} x=${back ? 286 : 332} y="286">${amountAt(slides ? record.slid : record.friction, i, "N", true)}</text>`}
    ${slides ? html`<${Net} record=${record} i=${i} per_N=${per_N} />` : html`<${Limit} record=${record} i=${i} friction=${friction} />`}
  </svg>`;
}

function Limit({ record, i, friction }) {
  const { limit } = record;
  if (friction === null) return null;
  if (limit.kind === "cannot tell") return html`<text class="t-static" x="24" y="348">${told.limitUntold(limit.reason)}</text>`;
  if (limit.kind !== "value") return html`<text class="on-line t-static" x="24" y="348">${told.limitBound(limit.whole)}</text>`;
  const spare = valueAt(record.spare, i) ?? 0;
  return html`<text class="on-line t-static" x="76" y="348">${told.limit(amountAt(record.limit_N, i, "N"))}</text>
    <text x="76" y="384">${spare > Number(record.spare.plus_minus ?? 0) ? told.spare(amountAt(record.spare, i, "N")) : told.beyond}</text>`;
}

function Net({ record, i, per_N }) {
  const net = valueAt(record.net, i);
  if (net === null) return null;
  const sure = fromNought(record.net, i);
  const a = amountAt(record.acceleration, i, "m/s²", true);
  return html`${sure && html`<${Arrow} x=${CENTRE} y=${312} angle=${net > 0 ? 0 : 180} length=${Math.abs(net) * per_N} kind="net" thick=${16} />`}
    ${sure && html`<text class=${`desk ${net > 0 ? "end" : ""}`} x=${net > 0 ? 296 : 324} y="318">${told.inferred}</text>`}
    <text class="mid" x="310" y="352">${sure ? `${told.net} ${amountAt(record.net, i, "N", true)}` : told.even}</text>
    <text class="mid" x="310" y="386">${a === null ? told.needsMass : sure ? `${net > 0 ? told.faster : told.slower} ${a}` : ""}</text>`;
}
