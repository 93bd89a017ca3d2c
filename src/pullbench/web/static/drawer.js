/** "Why plus or minus?": what the doubt is made of, biggest first, and how moment and stretch were chosen. */
import { html } from "./html.js";
import { Texture } from "./parts.js";
import { amount } from "./told.js";
import { words } from "./words.js";

/** @typedef {{source: string, breakaway: import("./types.js").BudgetRow|null, kinetic: import("./types.js").BudgetRow|null}} Pair */

/** One row for each source, with both results beside it. @param {import("./types.js").CardPlus["budgets"]} budgets @returns {Pair[]} */
export function paired({ breakaway, kinetic }) {
  const sources = [...new Set([...breakaway, ...kinetic].map((row) => row.source))];
  const rows = sources.map((source) => ({
    source, breakaway: breakaway.find((r) => r.source === source) ?? null, kinetic: kinetic.find((r) => r.source === source) ?? null,
  }));
  const share = (/** @type {Pair} */ p) => Math.max(p.breakaway?.share ?? 0, p.kinetic?.share ?? 0);
  return rows.sort((a, b) => share(b) - share(a));
}

/** @param {{card: import("./types.js").CardPlus, open: boolean, turn: () => void}} props */
export function Drawer({ card, open, turn }) {
  const rows = paired(card.budgets);
  const title = rows.length ? words.sheet.why : words.sheet.whyNot;
  return html`<section class=${`drawer ${open ? "open" : ""}`}>
    <h2><button aria-expanded=${open} aria-controls="drawer-inside" onClick=${turn}>${title}</button></h2>
    <div id="drawer-inside" hidden=${!open}>
      ${rows.length > 0 && html`<${Budget} rows=${rows} card=${card} />`}
      <${Reasons} card=${card} />
    </div>
  </section>`;
}

function Budget({ rows, card }) {
  const pm = (/** @type {import("./types.js").Told} */ told) => (told.plus_minus ? `${words.plusMinus} ${told.plus_minus} ${told.unit}` : amount(told));
  return html`<table class="budget">
    <thead><tr><th scope="col"><span class="unseen">${words.sheet.source}</span></th><th scope="col" class="t-static">${words.reading.staticShort}</th><th scope="col" class="t-kinetic">${words.reading.kinetic}</th></tr></thead>
    <tbody>${rows.map((/** @type {Pair} */ { source, breakaway, kinetic }) => html`<tr><th scope="row">${source}</th>
      <${Doubt} row=${breakaway} name="static-band" /><${Doubt} row=${kinetic} name="kinetic-band" /></tr>`)}</tbody>
    <tfoot><tr><th scope="row">${words.sheet.together}</th><td>${pm(card.breakaway)}</td><td>${pm(card.kinetic)}</td></tr></tfoot>
  </table>`;
}

function Doubt({ row, name }) {
  if (!row) return html`<td class="none">${words.sheet.none}</td>`;
  const style = { width: `${(4 * Math.sqrt(row.share)).toFixed(3)}em` };
  return html`<td><span class="bar" style=${style}><${Texture} name=${name} class="bar-fill" /></span> <span class="doubt">${row.u_text}</span></td>`;
}

function Reasons({ card }) {
  const { static: s, kinetic: k } = card.coefficients ?? { static: null, kinetic: null };
  const reasons = [card.breakaway, card.kinetic].filter((t) => t.reason).map((t) => t.reason);
  return html`
    ${reasons.map((reason) => html`<p>${reason}</p>`)}
    ${card.findings.length > 0 && html`<h3>${words.sheet.findings}</h3>${card.findings.map((f) => html`<p><b>${f.name}</b>: ${f.sentence} ${f.fix}</p>`)}`}
    ${card.stick_slip && html`<p>${words.states["stick-slip"]}: ${card.stick_slip.sentence}</p>`}
    ${(s || k) && html`<p>${words.sheet.coefficients(s ? amount(s) : "", k ? amount(k) : "")}</p>`}
    ${card.chosen.length > 0 && html`<h3>${words.sheet.chosen}</h3>${card.chosen.map((c) => html`<p>${c}</p>`)}`}`;
}
