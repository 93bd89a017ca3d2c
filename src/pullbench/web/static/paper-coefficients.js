/** The coefficients in words with their source, and what a teacher says of the pulls: load, surfaces, which of them. */
import { html, useEffect, useState } from "./html.js";
import { Choice, Field } from "./paper-parts.js";
import { words } from "./paper-words.js";

/** A line never breaks inside "μs = 0.38 ± 0.05". @param {string} text */
const bound = (text) => text.replace(/ (=|±) /g, "\u00a0$1\u00a0");

/** @param {{chosen: any, change: (c: any) => void, offer: any, found: any}} props found: what the bench said of them */
export function Coefficients({ chosen, change, offer, found }) {
  const book = chosen.day === "none";
  const lacking = !book && found?.source === "handbook" && found.pulls.length > 0;
  const [open, set] = useState(false);
  useEffect(() => { if (lacking) set(true); }, [lacking]);
  const days = /** @type {[string, string][]} */ ([["today", words.today], ["none", words.handbook], ...offer.days.map((day) => [day, day])]);
  return html`<section class="pp-part pp-from"><h2>${words.coefficients}</h2>
    ${found && html`<p class="pp-told" role="status">${found.stands_in && html`<strong>${found.stands_in}</strong> `}${bound(found.told)}</p>`}
    <div class="pp-row"><${Choice} name="day" chosen=${chosen} change=${change} options=${days} />
      ${book && html`<${Field} name="surfaces" wide chosen=${chosen} change=${change} list="pp-surfaces" />`}</div>
    ${!book && html`<details open=${open} onToggle=${(e) => set(e.target.open)}><summary>${words.about}</summary>
      <div class="pp-row">${["load_kg", "u_load_kg", "string_deg", "tilt_deg"].map((name) => html`<${Field} name=${name} chosen=${chosen} change=${change} />`)}</div>
      <div class="pp-row"><${Field} name="pulls" wide chosen=${chosen} change=${change} /></div>
      <div class="pp-row"><${Field} name="sole" wide chosen=${chosen} change=${change} /><${Field} name="floor" wide chosen=${chosen} change=${change} /></div>
      <p>${words.aboutHow}</p></details>`}
    <datalist id="pp-surfaces">${offer.surfaces.map((pair) => html`<option value=${pair}></option>`)}</datalist>
  </section>`;
}
