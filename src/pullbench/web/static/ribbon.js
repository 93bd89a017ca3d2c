/** The watch runs on at the head of every sheet: a little strip, the state, the force. */
import { html } from "./html.js";
import { Strip } from "./strip.js";
import { forceWords } from "./told.js";
import { words } from "./words.js";

const VIEW = { span_s: 8, end_s: null };

/** @param {{day: import("./day.js").Day, state: import("./state.js").State, mute?: boolean}} props */
export function Ribbon({ day, state, mute }) {
  const now = state.onWatch ? words.states[state.state] ?? state.state : words.watch.off;
  const lost = state.connection !== "open" && state.greeted;
  return html`<a class="ribbon" href="#bench">
    <${Strip} day=${day} view=${VIEW} mute=${mute} ribbon />
    <span class=${`ribbon-words ${day.caption ? "captioned" : ""}`}><span>${lost ? words.line.lost : html`${words.watch.ribbon} <b>${now}${state.onWatch && `, ${forceWords(state.force, state.label)}`}</b>`}</span>
      ${day.caption && html`<span class="ribbon-caption">${day.caption}</span>`}</span>
  </a>`;
}

/** @param {{title: string, day: import("./day.js").Day, state: import("./state.js").State, mute?: boolean, children?: any}} props head of a sheet */
export function SheetHead({ title, day, state, mute, children }) {
  return html`<header class="sheet-head">
    <h1 tabindex="-1">${title}</h1>
    ${children}
    <${Ribbon} day=${day} state=${state} mute=${mute} />
  </header>`;
}
