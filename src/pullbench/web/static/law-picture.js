/** The bench's own drawing of a law, put into the page: sharp at any size, its points links to their pulls. */
import { html, useEffect, useMemo, useRef } from "./html.js";
import { pullHash } from "./routes.js";
import { words } from "./words.js";

/**
 * The drawing as the bench sends it stands on its own: heading and sentences are drawn. In the page those are
 * words, so only its sheet of paper is shown.
 * @param {string} svg @param {{top: number, foot: number}} [trim] units of bare paper left out above and below
 * @returns {{inside: string, box: string}|null}
 */
export function paperOf(svg, trim = { top: 0, foot: 0 }) {
  const opened = /<svg\b[^>]*>/i.exec(svg);
  const end = svg.lastIndexOf("</svg>");
  if (!opened || end < 0) return null;
  const inside = svg.slice(opened.index + opened[0].length, end).replace(/<style\b[\s\S]*?<\/style>/gi, "")
    .replace(/^\s*<title>[\s\S]*?<\/title>/i, "").replace(/^\s*<desc>[\s\S]*?<\/desc>/i, "");
  const [whole, width] = /viewBox="(0 0 (\d+) \d+)"/.exec(opened[0])?.slice(1) ?? ["0 0 1280 720", "1280"];
  const paper = new RegExp(`<rect\\b[^>]*\\bx="0" y="([\\d.]+)" width="${width}" height="([\\d.]+)"`).exec(inside);
  if (!paper) return { inside, box: whole };
  const [y, height] = [Number(paper[1]), Number(paper[2])];
  return { inside, box: `0 ${y + trim.top} ${width} ${height - trim.top - trim.foot}` };
}

/** @param {{svg: string|null, trim?: {top: number, foot: number}, describe: string}} props */
export function LawPicture({ svg, trim, describe }) {
  const place = useRef(/** @type {SVGSVGElement|null} */ (null));
  const paper = useMemo(() => (svg ? paperOf(svg, trim) : null), [svg]);
  useEffect(() => {
    const drawing = place.current;
    if (!drawing || !paper) return;
    const held = drawing.contains(document.activeElement) ? document.activeElement?.getAttribute("data-link") : null;
    drawing.innerHTML = paper.inside;
    linkPoints(drawing);
    const again = held ? linksIn(drawing).find((link) => link.getAttribute("data-link") === held) : null;
    if (again) reach(drawing, again); // a picture that grew keeps the place of whoever stood on a point
  }, [paper]);
  if (!paper) return null;
  // Without points to stand on, the drawing itself is what arrow keys scroll on a narrow page.
  return html`<div class="law-picture" role="group" aria-label=${describe} tabindex=${paper.inside.includes("data-pull") ? undefined : "0"}>
    <svg ref=${place} class="law-svg" viewBox=${paper.box} onClick=${nearest} onKeyDown=${walk}></svg></div>
    <p class="sideways" aria-hidden="true">${words.law.sideways}</p>`;
}

const REACH = 28; // css pixels about a point that still mean it

const linksIn = (/** @type {SVGSVGElement} */ drawing) => /** @type {SVGAElement[]} */ ([...drawing.querySelectorAll("a[data-link]")]);

/** Every mark that names its pull is a link to it; words that are only drawn are said by the sentences beside. @param {SVGSVGElement} drawing */
function linkPoints(drawing) {
  for (const mark of drawing.querySelectorAll("a[data-pull]")) {
    const number = Number(mark.getAttribute("data-pull"));
    if (!Number.isInteger(number) || number < 1) continue;
    const series = mark.getAttribute("data-series") ?? "";
    mark.setAttribute("data-link", `${number} ${series}`);
    mark.setAttribute("href", pullHash([number]));
  }
  linksIn(drawing)[0]?.setAttribute("tabindex", "0"); // one stop for Tab; arrow keys go from point to point
  for (const text of drawing.querySelectorAll("text")) text.setAttribute("aria-hidden", "true");
}

/** @param {SVGSVGElement} drawing @param {SVGAElement} link */
function reach(drawing, link) {
  for (const other of linksIn(drawing)) other.setAttribute("tabindex", other === link ? "0" : "-1");
  link.focus();
}

/** @param {KeyboardEvent} event */
function walk(event) {
  const step = /** @type {Record<string, number>} */ ({ ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 })[event.key];
  const drawing = /** @type {SVGSVGElement} */ (event.currentTarget);
  const links = linksIn(drawing);
  const at = links.indexOf(/** @type {any} */ (document.activeElement));
  if (!step || at < 0) return;
  event.preventDefault();
  reach(drawing, links[(at + step + links.length) % links.length]);
}

/** Points are small and lie close together: a click means the one nearest to it. @param {MouseEvent} event */
function nearest(event) {
  if (event.detail === 0) return; // Enter on a link
  const links = linksIn(/** @type {SVGSVGElement} */ (event.currentTarget));
  const far = (/** @type {Element} */ link) => {
    const box = link.getBoundingClientRect();
    return Math.hypot(event.clientX - box.x - box.width / 2, event.clientY - box.y - box.height / 2);
  };
  const best = links.reduce((/** @type {SVGAElement|null} */ near, link) => (near && far(near) <= far(link) ? near : link), null);
  event.preventDefault();
  if (best && far(best) <= REACH) location.hash = best.getAttribute("href") ?? "";
}
