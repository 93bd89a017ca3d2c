/** What the screens of the laws share: the sentence with its fix, the two voices, what was left out, which surface. */
import { html } from "./html.js";
import { pullHash } from "./routes.js";
import { glued } from "./told.js";
import { words } from "./words.js";

const LONG = 70; // letters that fit a line of the projector at full size

/** One size smaller when it would take more than two lines, unless there is room. @param {{sentence: string, fix: string|null, roomy?: boolean, cannot?: boolean}} props cannot: there is nothing else on the sheet yet */
export function LawSaid({ sentence, fix, roomy = false, cannot = false }) {
  const size = sentence.length + (fix?.length ?? 0);
  return html`<p class=${`law-said ${cannot ? "cannot" : roomy && size < 6 * LONG ? "roomy" : size > 3 * LONG ? "longest" : size > 2 * LONG ? "long" : ""}`}>${glued(sentence)}${fix && html` <strong>${glued(fix)}</strong>`}</p>`;
}

/** What the bench says in one go, sentence by sentence. @param {string} text @returns {string[]} */
export const sentencesOf = (text) => text.split(/(?<=[.?!]) (?=\p{L})/u).filter(Boolean);

/** One slip for the room, one for a colleague who knows statistics. @param {{room: string, colleague: string, alone?: boolean, children?: any}} props alone: nothing else is said to the room */
export function Voices({ room, colleague, alone = false, children }) {
  return html`<div class="voices">
    ${room && html`<section class=${`voice room ${alone ? "alone" : ""}`} aria-label=${words.law.room}><p>${glued(room)}</p></section>`}
    <section class="voice colleague" aria-label=${words.law.colleague}>${colleague && html`<p>${glued(colleague)}</p>`}${children}</section>
  </div>`;
}

/** Pulls drawn in grey, counted; those with one reason stand together. @param {{greyed?: import("./types.js").Greyed[]}} props */
export function GreyedWords({ greyed = [] }) {
  if (!greyed.length) return null;
  const reasons = /** @type {Map<string, number[]>} */ (new Map());
  for (const { n, why } of greyed) reasons.set(why, [...(reasons.get(why) ?? []), n]);
  return html` ${words.law.greyed(greyed.length)}: ${[...reasons].map(([why, numbers], i) => html`${i ? "; " : ""}<span class="greyed">${words.law.pull(numbers.length)} ${numbers.map((n) => html`
    <a href=${pullHash([n])} aria-label=${`${words.watch.holdUp} ${n}`}>${n}</a>`)}: ${why}</span>`)}.`;
}

/** Which surface is drawn: the bench's own, or the one that was pressed, until it is pressed again. @param {{surfaces?: string[], chosen: string, pinned: string, choose: (name: string) => void, drawn: boolean}} props */
export function SurfaceChoice({ surfaces = [], chosen, pinned, choose, drawn }) {
  if (surfaces.length < 2) return drawn && chosen ? html`<p class="drawn-name">${chosen}</p>` : null;
  return html`<div class="law-choice" role="group" aria-label=${words.law.which}>${surfaces.map((name) => html`
    <button aria-pressed=${name === chosen ? "true" : "false"} onClick=${() => choose(name === pinned ? "" : name)}>${name}</button>`)}</div>`;
}
