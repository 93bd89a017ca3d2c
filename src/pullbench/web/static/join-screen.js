/** The way in for phones: a square code, the address, the code. Never the teacher key. */
import { html } from "./html.js";
import { SheetHead } from "./ribbon.js";
import { Said } from "./parts.js";
import { words } from "./words.js";

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function JoinSheet({ day, state }) {
  const { join } = state;
  return html`<main class="sheet join">
    <${SheetHead} title=${words.titles.join} day=${day} state=${state} />
    ${join ? html`<div class="sheet-body join-body">
      ${join.svg && html`<img alt=${words.join.qr} src=${`data:image/svg+xml,${encodeURIComponent(join.svg)}`} />`}
      <div><p class="join-how">${words.join.how}</p>
        <p class="join-url">${join.url}</p>
        <p class="join-code">${words.join.code} <b>${join.code}</b></p></div>
    </div>` : html`<div class="sheet-body"><${Said} sentence=${words.join.none} fix=${words.join.noneFix} /></div>`}
  </main>`;
}
