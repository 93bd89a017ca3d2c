/** All commands on one sheet: key, words, what they do. */
import { html } from "./html.js";
import { COMMANDS } from "./commands.js";
import { SheetHead } from "./ribbon.js";
import { words } from "./words.js";

const NAMES = /** @type {Record<string, string>} */ ({ ArrowLeft: "\u2190", ArrowRight: "\u2192", PageDown: "Page Down", PageUp: "Page Up", Escape: "Esc" });

/** What a command does, unless its name says it all. */
const says = (id) => words.commands[id].says !== words.commands[id].words[0] && html`<span class="help-says">${words.commands[id].says}</span>`;

/** @param {{day: import("./day.js").Day, state: import("./state.js").State, letters: boolean, setLetters: (on: boolean) => void}} props */
export function Help({ day, state, letters, setLetters }) {
  const own = COMMANDS.filter((c) => !c.teacher || state.role === "teacher");
  return html`<main class="sheet help">
    <${SheetHead} title=${words.titles.help} day=${day} state=${state} />
    <div class="sheet-body">
      <p class="help-by">${words.help.by}
        <label class="check-label"><input type="checkbox" checked=${letters} onChange=${(e) => setLetters(e.target.checked)} /> ${words.help.keysOn}</label></p>
      ${Object.keys(words.help.where).map((where) => html`<section class="help-part">
        <h2>${words.help.where[where]}</h2>
        <ul class="help-list">${own.filter((c) => c.where === where).map((c) => html`<li>
          <span class="help-keys">${c.keys.filter((k) => k !== "=").map((k) => html`<kbd>${NAMES[k] ?? k}</kbd>`)}</span>
          <span><b>${words.commands[c.id].words[0]}</b> ${says(c.id)}</span></li>`)}</ul>
      </section>`)}
      <p>${words.help.clicker}</p>
    </div>
  </main>`;
}
