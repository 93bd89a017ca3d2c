/** Setting a pull aside asks why, and never hides it. */
import { html, useEffect, useRef, useState } from "./html.js";
import { words } from "./words.js";

/** @param {{set: (why: string) => void, cancel: () => void}} props */
export function AskWhy({ set, cancel }) {
  const [why, setWhy] = useState("");
  const input = useRef(/** @type {HTMLInputElement|null} */ (null));
  useEffect(() => input.current?.focus(), []);
  const submit = (event) => {
    event.preventDefault();
    if (why.trim()) set(why.trim());
    else input.current?.focus();
  };
  return html`<form class="ask" onSubmit=${submit} onKeyDown=${(e) => e.key === "Escape" && (e.stopPropagation(), e.preventDefault(), cancel())}>
    <label>${words.sheet.ask} <input ref=${input} value=${why} list="reasons" required autocomplete="off" maxlength="200" onInput=${(e) => setWhy(e.target.value)} /></label>
    <datalist id="reasons">${words.sheet.reasons.map((r) => html`<option value=${r}></option>`)}</datalist>
    <button>${words.sheet.doAside}</button>
    <button type="button" class="plain" onClick=${cancel}>${words.sheet.cancel}</button>
  </form>`;
}
