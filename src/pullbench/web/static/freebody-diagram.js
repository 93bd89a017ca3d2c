/** All forces on the sled to one scale: weight, normal force, string, friction with its limit. */
import { html } from "./html.js";
import { Arrow } from "./freebody-arrows.js";
import { words } from "./next-lesson-words.js";
import { amountAt, largest, valueAt } from "./steps.js";

const FLOOR = 238;
const MIDDLE = 290;
const LONGEST = 180;
const LEVEL = 150; // of what lies along the board
const told = words.forces;

/** Newtons to units: one scale for the whole pull, so that nothing jumps while it is scrubbed. @param {any} record */
export function unitsPerNewton(record) {
  return Math.min(LONGEST / Math.max(record.weight?.value ?? 0, largest(record.normal), 1e-9), LEVEL / Math.max(largest(record.pull), largest(record.limit_N), 1e-9));
}

/** @param {number} per_N @returns {number} the roundest force whose bar is 50 to 125 units long */
export function barNewtons(per_N) {
  const decade = 10 ** Math.floor(Math.log10(125 / per_N));
  return decade * (/** @type {number} */ ([5, 2, 1].find((m) => m * decade * per_N <= 125)));
}

/** @param {{record: any, i: number, slides: boolean}} props */
export function Diagram({ record, i, slides }) {
  const per_N = unitsPerNewton(record);
  const tilt = record.tilt_deg;
  const turn = (tilt * Math.PI) / 180;
  const at = (x, y) => [MIDDLE + (x - MIDDLE) * Math.cos(turn) + (y - FLOOR) * Math.sin(turn), FLOOR - (x - MIDDLE) * Math.sin(turn) + (y - FLOOR) * Math.cos(turn)];
  const size = (column) => valueAt(column, i);
  const [pull, friction, limit, normal] = [size(record.pull) ?? 0, size(slides ? record.slid : record.friction), size(record.limit_N), size(record.normal)];
  const kind = slides ? "kinetic" : "static";
  const up = at(276, FLOOR - (normal ?? 0) * per_N);
  const [downX, downY] = [at(304, 199)[0], at(304, 199)[1] + (record.weight?.value ?? 0) * per_N];
  const bar_N = barNewtons(per_N);
  const foot = friction !== null && friction < 0 ? 375 : 205;
  const tip = at(foot - (friction ?? 0) * per_N, FLOOR);
  const hung = at(385, 199);
  return html`<svg class="fb-diagram" viewBox="0 0 640 400" role="img" aria-label=${told.picture}>
    <g transform=${`rotate(${-tilt} ${MIDDLE} ${FLOOR})`}>
      <path class="mark" d=${`M40,${FLOOR}H600`} />
      ${Array.from({ length: 14 }, (_, k) => html`<path class="rule" d=${`M${52 + 40 * k},${FLOOR}l-16,18`} />`)}
      <rect class="block" x="195" y="160" width="190" height="78" /><path class="mark" d="M195,229h190" />
      <rect class="block thin" x="256" y="116" width="68" height="44" rx="4" />
      <path class="string" d=${`M385,199L${385 + 92 * Math.cos((record.string_deg * Math.PI) / 180)},${199 - 92 * Math.sin((record.string_deg * Math.PI) / 180)}`} />
      ${normal !== null && html`<${Arrow} x=${276} y=${FLOOR} angle=${90} length=${normal * per_N} />`}
      ${record.weight && html`<${Arrow} x=${304} y=${199} angle=${-90 - tilt} length=${record.weight.value * per_N} />`}
      <${Arrow} x=${385} y=${199} angle=${record.string_deg} length=${Math.max(0, pull) * per_N} />
      ${!slides && friction !== null && limit !== null && html`<rect class="wall" x=${foot - (friction < 0 ? -1 : 1) * limit * per_N - 3} y="208" width="6" height="52" />`}
      ${friction !== null && html`<${Arrow} x=${foot} y=${FLOOR - 4} angle=${friction < 0 ? 0 : 180} length=${Math.abs(friction) * per_N} kind=${kind} />`}
    </g>
    <text class="halo-room" x=${hung[0] + 8} y=${Math.min(hung[1], at(477, 199)[1] - 92 * Math.sin((record.string_deg * Math.PI) / 180)) - 22}>${told.string}</text>
    <text class=${`halo-room mid ${friction === null ? "" : `t-${kind}`}`} x=${Math.min(Math.max(friction === null ? 150 : (tip[0] + at(foot, FLOOR)[0]) / 2 - 30, 110), 500)} y=${Math.max(tip[1], at(foot, FLOOR)[1]) + 48}>${friction === null ? told.unknownFriction : told.kind[kind]}</text>
    ${normal !== null ? html`<text class="halo-room" x=${up[0] + 22} y=${Math.max(24, up[1] - 4)}>${told.normal} ${amountAt(record.normal, i, "N")}</text>`
    : html`<text class="halo-room" x="230" y="60">${told.normal}, ${told.weight}</text><text class="halo-room" x="230" y="94">${told.notSaid}</text>`}
    ${record.weight && html`<text class="halo-room" x=${downX + 28} y=${Math.min(394, downY - 2)}>${told.weight} ${record.weight.whole}</text>`}
    <path class="mark thin" d=${`M60,358h${bar_N * per_N}m0,-9v18m${-bar_N * per_N},0v-18`} />
    <text class="mid" x=${60 + (bar_N * per_N) / 2} y="342">${`${bar_N} N`}</text>
  </svg>`;
}
