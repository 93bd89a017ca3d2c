/** Today's pulls as torn slips along the edge; the last one stands a little higher. A slip is a link. */
import { html, useEffect, useRef } from "./html.js";
import { prepared } from "./canvas.js";
import { columnSeconds, levelFor } from "./columns.js";
import { heightOf } from "./day.js";
import { line } from "./ink.js";
import { columnPoints } from "./points.js";
import { pullHash } from "./routes.js";
import { amount, kineticWords } from "./told.js";
import { colours } from "./theme.js";
import { words } from "./words.js";

const SHOWN = 5; // as many as fit an edge of 1280 units
const TORN = `M0,66V5${" l8,-5 8,5".repeat(14)}V66Z`;
const LOOK_AGAIN_MS = 500;

/** @param {{day: import("./day.js").Day, pulls: import("./types.js").Card[], label: import("./types.js").Label, link?: (n: number) => string, most?: number, but?: number[]}} props */
export function Slips({ day, pulls, label, link = (n) => pullHash([n]), most = SHOWN, but = [] }) {
  const offered = pulls.filter((p) => !but.includes(p.number));
  const shown = offered.slice(offered.length > most ? 1 - most : -most); // the words for the earlier ones take a place
  const earlier = offered.length - shown.length;
  const full_N = 1.15 * Math.max(...shown.map(heightOf), 1e-3); // one scale for all that lie side by side
  return html`<nav class="slips" aria-label=${label ? `${words.watch.today}, ${words.labels[label] ?? label}` : words.watch.today}>
    <ol>
      ${earlier > 0 && html`<li class="slip-earlier"><a href="#logbook">${words.watch.earlier(earlier)}</a></li>`}
      ${shown.map((pull, i) => html`<${Slip} full_N=${full_N} key=${pull.number} day=${day} pull=${pull} href=${link(pull.number)} last=${i === shown.length - 1} />`)}
    </ol>
  </nav>`;
}

/** Its name is read as a sentence; what the eye needs of it is a number, a little line and the static maximum. */
function Slip({ day, pull, full_N, href, last }) {
  const off = pull.aside !== null || pull.verdict === "pull again";
  const verdict = pull.aside !== null ? `${words.watch.aside}, ${pull.aside}` : words.verdicts[pull.verdict] ?? pull.verdict;
  const label = pull.label ? `, ${words.labels[pull.label] ?? pull.label}` : "";
  const unseen = (text) => html`<span class="unseen">${text}</span>`;
  return html`<li class=${`slip ${last ? "last" : ""} ${pull.aside !== null ? "aside" : ""}`}>
    <a href=${href}>
      <svg class="slip-paper" viewBox="0 0 224 66" preserveAspectRatio="none" aria-hidden="true"><path class="paper" d=${TORN} />${off && html`<path d=${TORN} fill="url(#aside)" />`}</svg>
      ${unseen(`${words.watch.holdUp} `)}<b class="slip-number">${pull.number}</b>
      ${off
        ? html`<span class="slip-word">${pull.aside !== null ? words.watch.aside : words.verdicts["pull again"]}</span>${unseen(pull.aside !== null ? `, ${pull.aside}` : "")}`
        : html`${unseen(`: ${verdict}, ${words.reading.static} `)}<${Spark} day=${day} pull=${pull} full_N=${full_N} /><span class="slip-told">${amount(pull.breakaway)}</span>${unseen(`, ${kineticWords(pull)}${label}`)}`}
    </a>
  </li>`;
}

const pairs = new Float32Array(2 * 400);
const xy = new Float32Array(6 * 400);

/** The pull in little. */
function Spark({ day, pull, full_N }) {
  const canvas = useRef(/** @type {HTMLCanvasElement|null} */ (null));
  const room = colours().version;
  useEffect(() => {
    let timer = 0;
    const draw = () => {
      const on = canvas.current && prepared(canvas.current);
      if (on && !drawSpark(on, day, pull, full_N)) timer = setTimeout(draw, LOOK_AGAIN_MS);
    };
    draw();
    return () => clearTimeout(timer);
  }, [pull, full_N, room]);
  return html`<canvas class="spark" ref=${canvas} aria-hidden="true"></canvas>`;
}

/** @returns {boolean} whether all of it was there */
function drawSpark({ c, width, height, u }, day, { start_s, end_s, direction }, full_N) {
  const level = levelFor((end_s - start_s) / 100);
  const column_s = columnSeconds(level);
  const first = Math.floor(start_s / column_s);
  const count = Math.min(400, Math.ceil(end_s / column_s) - first + 1);
  const missing = day.columns.missing(level, start_s, end_s).length > 0;
  if (missing) day.filler.look(level, start_s, end_s);
  day.columns.read(level, first, count, pairs);
  c.fillStyle = colours().paper;
  c.fillRect(0, 0, width, height);
  const base = height - 3 * u;
  const y = (f) => base - (f / full_N) * (height - 5 * u);
  const points = columnPoints(pairs, count, (i) => 2 * u + (i / count) * (width - 4 * u), y, direction, 30, xy);
  line(/** @type {any} */ ({ c, u }), { xy, count: points }, 3);
  return !missing;
}
