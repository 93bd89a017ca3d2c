/** The rider alone, to a scale of its own: its weight, what the sled carries, and the friction that takes it along. */
import { html } from "./html.js";
import { Arrow } from "./freebody-arrows.js";
import { barNewtons } from "./freebody-diagram.js";
import { words } from "./next-lesson-words.js";
import { amountAt, fromNought, largest, valueAt } from "./steps.js";

const [MIDDLE, DECK] = [300, 240];
const UPRIGHT = 124; // of its weight
const LEVEL = 180; // of its friction, enlarged by the largest of these that leaves it room
const ROUND = [100, 50, 20, 10, 5, 2, 1];
const told = words.forces;

/** @param {{record: any, i: number, slides: boolean}} props */
export function Rider({ record, i, slides }) {
  const most = largest(record.rider);
  const per_N = Math.min(UPRIGHT / record.rider_weight.value, LEVEL / Math.max(most, 1e-9));
  const times = ROUND.find((n) => n * most * per_N <= LEVEL) ?? 1;
  const friction = valueAt(record.rider, i);
  const sure = fromNought(record.rider, i);
  const size = sure ? amountAt(record.rider, i, "N", true) : null;
  const back = sure && friction < 0;
  const bar_N = barNewtons(per_N);
  return html`<svg class="fb-pair fb-rider" viewBox="0 0 620 400" role="img" aria-label=${told.riderPicture}>
    <rect class="paper" width="620" height="400" />
    <text class="desk" x="24" y="36">${told.riderAlone(record.rider_kg)}${record.label ? html`<tspan class="strong">${`, ${words.labels[record.label] ?? record.label}`}</tspan>` : ""}</text>
    <g transform=${`rotate(${-record.tilt_deg} ${MIDDLE} ${DECK})`}>
      <path class="deck" d=${`M60,${DECK + 4}H500`} />
      <rect class="block" x=${MIDDLE - 62} y=${DECK - 76} width="124" height="76" />
      <${Arrow} x=${MIDDLE - 22} y=${DECK} angle=${90} length=${record.rider_carried.value * per_N} />
      <${Arrow} x=${MIDDLE + 22} y=${DECK - 38} angle=${-90 - record.tilt_deg} length=${record.rider_weight.value * per_N} />
      ${sure && html`<${Arrow} x=${MIDDLE + (back ? -62 : 62)} y=${DECK - 12} angle=${back ? 180 : 0} length=${Math.abs(friction) * times * per_N} kind="static" thick=${14} />`}
    </g>
    <text class="halo-paper mid" x=${MIDDLE - 22} y="96">${told.carries} ${record.rider_carried.whole}</text>
    <text class="halo-paper" x=${MIDDLE + 44} y="330">${told.weight} ${record.rider_weight.whole}</text>
    ${size && html`<text class=${`halo-paper strong t-static ${back ? "" : "end"}`} x=${back ? 24 : 596} y="168">${size}</text>
      ${times > 1 && html`<text class=${`halo-paper desk ${back ? "" : "end"}`} x=${back ? 24 : 596} y="198">${told.drawnLarger(times)}</text>`}`}
    <path class="mark thin" d=${`M24,326h${bar_N * per_N}m0,-9v18m${-bar_N * per_N},0v-18`} />
    <text x="24" y="306">${`${bar_N} N`}</text>
    <text x="24" y="380">${riderSaid(record, friction, sure, slides)}</text>
  </svg>`;
}

function riderSaid(record, friction, sure, slides) {
  if (friction === null) return told.riderUntold;
  if (!slides) return record.tilt_deg === 0 ? told.riderRests : told.riderHeld;
  if (!sure) return told.riderEven;
  return friction > 0 ? told.riderTaken : told.riderBack;
}
