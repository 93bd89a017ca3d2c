/** Bench check: is the bench good enough, in words; nulling, and verifying with known masses. */
import { html, useState } from "./html.js";
import { FaultWords, Label, Said } from "./parts.js";
import { post, Refused } from "./requests.js";
import { SheetHead } from "./ribbon.js";
import { glued } from "./told.js";
import { words } from "./words.js";

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function CheckSheet({ day, state }) {
  const { check } = state;
  const [fault, setFault] = useState(/** @type {import("./types.js").Fault|null} */ (null));
  const order = async (/** @type {string} */ path, /** @type {unknown} */ body) => {
    try {
      const answer = await post(path, body);
      if (answer.check) day.store.take({ kind: "check", check: answer.check });
      setFault(null);
      return true;
    } catch (refused) {
      if (refused instanceof Refused) setFault(refused.fault);
      return false;
    }
  };
  const first = check?.rows.find((r) => r.fix)?.fix ?? null;
  return html`<main class="sheet check">
    <${SheetHead} title=${words.titles.check} day=${day} state=${state} />
    <div class="sheet-body check-body">
      <div class="check-left">
        <div role="status" aria-live="polite"><${Said} sentence=${check?.summary ?? words.check.none} fix=${first} /></div>
        <p class="check-from">${words.check.source} ${state.source} <${Label} label=${state.label} /></p>
        ${check && html`<${Rows} rows=${check.rows} but=${first} />`}
      </div>
      ${check && html`<div class="check-right"><${FaultWords} fault=${fault} />
        <${Rest} check=${check} teacher=${state.role === "teacher"} order=${order} label=${state.label} />
        ${state.role === "teacher" && html`<${Masses} check=${check} day=${day} order=${order} />`}</div>`}
    </div>
  </main>`;
}

/** The first fix stands above the table. */
function Rows({ rows, but }) {
  return html`<table class="check-rows">
    <thead class="unseen"><tr><th scope="col">${words.check.what}</th><th scope="col">${words.check.reading}</th><th scope="col">${words.check.means}</th></tr></thead>
    <tbody>${rows.map((/** @type {import("./types.js").CheckRow} */ row) => html`<tr><th scope="row">${row.name}</th><td class="check-text">${row.text}</td>
      <td>${glued(row.sentence)}${row.fix && row.fix !== but && html` <b>${row.fix}</b>`}</td></tr>`)}</tbody>
  </table>`;
}

function Rest({ check, teacher, order, label }) {
  if (!check.rest) return null;
  const { text, unit, plus_minus, sentence } = check.rest;
  return html`<section><h2>${words.check.rest}</h2>
    <p class="check-number">${text} ${unit} ${words.plusMinus} ${plus_minus} <${Label} label=${label} /></p><p>${sentence}</p>
    ${teacher && html`<button onClick=${() => order("null", {})}>${words.check.null}</button>`}</section>`;
}

/** Hang a mass, say when it is still; the bench takes the reading of that moment. */
function Masses({ check, day, order }) {
  const [hung, setHung] = useState(/** @type {{kg: number, at_s: number}[]} */ ([]));
  const [typed, setTyped] = useState("");
  const [sorry, setSorry] = useState("");
  const hang = (event) => {
    event.preventDefault();
    const kg = Number(typed.trim().replace(",", "."));
    if (!(kg > 0 && kg < 1000)) return setSorry(words.check.notANumber);
    setHung([...hung, { kg, at_s: day.columns.end_s }]);
    setTyped("");
    setSorry("");
  };
  const give = async () => (hung.length < 2 ? setSorry(words.check.massesNeed) : (await order("masses", { hung })) && setHung([]));
  return html`<section><h2>${words.check.masses}</h2>
    ${check.gain && html`<p class="check-number">${check.gain.text} ${words.plusMinus} ${check.gain.plus_minus}</p><p>${check.gain.sentence}</p>`}
    <p>${words.check.massesHow}</p>
    <form class="ask" onSubmit=${hang}><label>${words.check.kg} <input inputmode="decimal" size="6" value=${typed} onInput=${(e) => setTyped(e.target.value)} /></label>
      <button>${words.check.hang}</button></form>
    <p role="status">${sorry || (hung.length ? `${words.check.hung}: ${hung.map((h) => `${h.kg} kg`).join(", ")}` : "")}</p>
    ${hung.length > 0 && html`<button onClick=${give}>${words.check.give}</button>`}
  </section>`;
}
