/** Which levels and kinds of problems. */
import { html } from "./html.js";
import { words } from "./paper-words.js";

const LEVELS = [1, 2, 3, 4];

/**
 * @param {{offer: any, levels: number[], kinds: string[], put: (levels: number[], kinds: string[]) => void,
 *   title: (n: number) => string, how: string, atLeastOne?: boolean}} props atLeastOne: a level must be marked
 */
export function Kinds({ offer, levels, kinds, put, title, how, atLeastOne = false }) {
  const among = offer.kinds.filter((kind) => !levels.length || levels.includes(kind.level));
  const turnLevel = (level) => {
    const next = levels.includes(level) ? levels.filter((l) => l !== level) : [...levels, level].sort();
    if (atLeastOne && !next.length) return;
    put(next, kinds.filter((name) => offer.kinds.some((kind) => kind.name === name && (!next.length || next.includes(kind.level)))));
  };
  const turn = (name) => put(levels, kinds.includes(name) ? kinds.filter((k) => k !== name) : [...kinds, name]);
  return html`<fieldset class="pp-levels"><legend>${words.levels}</legend>
      ${LEVELS.map((level) => html`<label class="check-label"><input type="checkbox" name=${`level-${level}`} checked=${levels.includes(level)} onChange=${() => turnLevel(level)} /> ${level}</label>`)}</fieldset>
    <details class="pp-kinds"><summary>${title(kinds.length)}</summary>
      <p>${how} ${kinds.length > 0 && html`<button class="plain" onClick=${() => put(levels, [])}>${words.clear}</button>`}</p>
      <ul>${among.map((kind) => html`<li><label class="check-label"><input type="checkbox" name=${kind.name} checked=${kinds.includes(kind.name)} onChange=${() => turn(kind.name)} />
        <span>${kind.title} ${levels.length !== 1 && html`<small>${words.level(kind.level)}</small>`}</span></label></li>`)}</ul></details>`;
}
