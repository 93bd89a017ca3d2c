/** The load and the angles of a pull: typed once, kept on this machine. */
import { html, useState } from "./html.js";
import { choice, choose } from "./kept.js";
import { words } from "./next-lesson-words.js";

const FIELDS = ["load_kg", "u_load_kg", "string_deg", "tilt_deg", "rider_kg"];
const told = words.forces;
const ASKED = /** @type {Record<string, string>} */ ({
  load_kg: told.loadAsk, u_load_kg: told.loadDoubt, string_deg: told.string_deg, tilt_deg: told.tilt_deg, rider_kg: told.rider_kg,
});

/** @typedef {Record<string, string>} Load */

/** @returns {Load} */
export function loadKept() {
  try {
    return JSON.parse(choice("forces-load", "{}"));
  } catch {
    return {};
  }
}

/** @param {Load} load @returns {string} */
export const queryOf = (load) => new URLSearchParams(FIELDS.flatMap((f) => (load[f] ? [[f, load[f]]] : []))).toString();

/** said_kg: what the bench was told of this pull. @param {{load: Load, set: (load: Load) => void, said_kg?: number|null, open?: boolean}} props */
export function LoadForm({ load, set, said_kg = null, open = false }) {
  const [typed, type] = useState(load);
  const use = (/** @type {Event} */ event) => {
    event.preventDefault();
    choose("forces-load", JSON.stringify(typed));
    set(typed);
    const box = /** @type {HTMLElement} */ (event.target).closest("details");
    if (box) box.open = false;
  };
  return html`<details class="fb-load" open=${open}><summary>${said_kg === null ? told.load(load.load_kg) : told.loadSaid(said_kg.toFixed(2))}</summary>
    <form onSubmit=${use}>${FIELDS.filter((field) => said_kg === null || !field.endsWith("load_kg")).map((field) => html`<label>${ASKED[field]}
      <input inputmode="decimal" name=${field} value=${typed[field] ?? ""} onInput=${(e) => type({ ...typed, [field]: e.target.value })} /></label>`)}
      <button>${told.use}</button></form></details>`;
}
