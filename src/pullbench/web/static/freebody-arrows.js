/** Arrows of forces as SVG: kinds told by shape and texture as well as by colour. */
import { html } from "./html.js";

const COLOUR = /** @type {Record<string, string>} */ ({ static: "t-static", kinetic: "t-kinetic" });

/**
 * @param {{x: number, y: number, angle: number, length: number, kind?: string, thick?: number}} props
 * angle: degrees anticlockwise from the right; kind: static (round foot), kinetic (diamond, dashes), net (hollow), or a plain force
 */
export function Arrow({ x, y, angle, length, kind = "plain", thick = 9 }) {
  const head = Math.min(2.2 * thick, 0.6 * length);
  const half = 1.25 * thick * (head / (2.2 * thick));
  const shaft = Math.max(0, length - head);
  const colour = COLOUR[kind] ?? "";
  const dash = kind === "kinetic" ? `${1.6 * thick} ${0.6 * thick}` : null;
  return html`<g class=${`arrow ${kind} ${colour}`} data-force=${kind} transform=${`translate(${x.toFixed(1)} ${y.toFixed(1)}) rotate(${(-angle).toFixed(2)})`}>
    ${kind === "net" ? html`<path class="hollow" d=${`M0,${-thick / 2}H${shaft}V${-half}L${length},0L${shaft},${half}V${thick / 2}H0Z`} />`
    : length > 0.5 && html`<path class="shaft" d=${`M0,0H${shaft + 0.5}`} stroke-width=${thick} stroke-dasharray=${dash} />
      <path class="head" d=${`M${length},0L${shaft},${half}V${-half}Z`} />`}
    ${kind === "static" && html`<circle class="head" r=${Math.min(0.85 * thick, 14)} />`}
    ${kind === "kinetic" && html`<path class="head" d=${`M${-thick},0L0,${-thick}L${thick},0L0,${thick}Z`} />`}
  </g>`;
}

/** The static limit: a wall as thick as its ±, hatched behind. Drawn across an arrow that points to the left (way -1) or right. */
export function Wall({ x, y, way = -1, half, high }) {
  const w = Math.max(2.5, half);
  const back = way < 0 ? x - w - 46 : x + w;
  return html`<g data-wall="static"><rect x=${back} y=${y - high / 2} width="46" height=${high} fill="url(#static-band)" />
    <rect class="wall" x=${x - w} y=${y - high / 2} width=${2 * w} height=${high} /></g>`;
}
