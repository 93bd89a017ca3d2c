/** Item bank: problems as items of a question package; one is seen with its feedback, all are taken. */
import { html, useState } from "./html.js";
import { itemsOf, useChoices } from "./paper-choices.js";
import { Coefficients } from "./paper-coefficients.js";
import { Kinds } from "./paper-kinds.js";
import { Choice, Field, Page, Take, Tick, useLook, useOffer } from "./paper-parts.js";
import { PaperScreen } from "./paper-screen.js";
import { words } from "./paper-words.js";
import { FaultWords } from "./parts.js";

const told = words.items;

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Screen({ day, state }) {
  if (state.role !== "teacher") return html`<${PaperScreen} name="items" title=${told.title} day=${day} state=${state} />`;
  return html`<${Items} day=${day} state=${state} />`;
}

function Items({ day, state }) {
  const [chosen, choose] = useChoices();
  const [at, go] = useState(0);
  const change = (part) => { choose(part); go(0); };
  const offer = useOffer();
  const { answer, fault, busy } = useLook("paper/items", { ...itemsOf(chosen), at }, state.pulls);
  return html`<${PaperScreen} name="items" title=${told.title} about=${answer && told.count(answer.items)} label=${answer?.label} day=${day} state=${state}>
    <div class="pp-body">
      <div class="pp-left">
        <section class="pp-part"><h2>${words.problems}</h2>
          <${Kinds} offer=${offer} levels=${chosen.item_levels} kinds=${chosen.item_kinds} put=${(levels, kinds) => change({ item_levels: levels, item_kinds: kinds })} title=${words.itemKindsOf} how=${words.itemKindsHow} />
          <div class="pp-row"><${Field} name="variants" whole chosen=${chosen} change=${change} /><${Field} name="seed" whole chosen=${chosen} change=${change} />
            <${Choice} name="pictures" chosen=${chosen} change=${change} options=${Object.entries(words.pictureForms)} /></div>
          <div class="pp-ticks"><${Tick} name="comma" chosen=${chosen} change=${change} /></div>
          ${answer && html`<label class="pp-field pp-jump">${told.kind}<select name="kind" onChange=${(e) => go(Number(e.target.value))}>
            ${answer.firsts.map((one) => html`<option value=${one.at} selected=${one.kind === answer.kind}>${one.title}</option>`)}</select></label>`}</section>
        <${Coefficients} chosen=${chosen} change=${change} offer=${offer} found=${answer} />
        <nav class="pp-nav"><a href="#sheets">${words.sheets.title}</a></nav>
      </div>
      <div class="pp-right">
        <div class="pp-bar">
          ${answer && html`<div class="pp-step"><button aria-label=${told.before} disabled=${at <= 0} onClick=${() => go(at - 1)}>−</button>
            <span role="status">${told.item(at + 1, answer.items)}</span>
            <button aria-label=${told.after} disabled=${at >= answer.items - 1} onClick=${() => go(at + 1)}>+</button></div>`}
          <${Take} path="paper/items/take" files=${["package", "csv", "text"].map((form) => ({ word: told[form], body: { ...itemsOf(chosen), form } }))} />
        </div>
        <${FaultWords} fault=${fault} />
        ${answer?.notes.map((note) => html`<p class="pp-note">${note}</p>`)}
        <${Page} view=${answer?.view ?? null} busy=${busy} title=${answer ? told.frame(answer.name) : ""} />
      </div>
    </div>
  </${PaperScreen}>`;
}
