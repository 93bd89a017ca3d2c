/** Problem sheets: a class set with the day's coefficients, seen as it is printed, taken as PDF or HTML. */
import { html, useState } from "./html.js";
import { setOf, useChoices } from "./paper-choices.js";
import { Coefficients } from "./paper-coefficients.js";
import { Kinds } from "./paper-kinds.js";
import { Choice, Field, Page, Take, Tick, useLook, useOffer } from "./paper-parts.js";
import { PaperScreen } from "./paper-screen.js";
import { words } from "./paper-words.js";
import { FaultWords } from "./parts.js";

const told = words.sheets;

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Screen({ day, state }) {
  if (state.role !== "teacher") return html`<${PaperScreen} name="sheets" title=${told.title} day=${day} state=${state} />`;
  return html`<${Sheets} day=${day} state=${state} />`;
}

function Sheets({ day, state }) {
  const [chosen, change] = useChoices();
  const [show, setShow] = useState("sheet");
  const [seat, setSeat] = useState(1);
  const offer = useOffer();
  const seats = /^\d+$/.test(chosen.seats.trim()) ? Number(chosen.seats) : 1;
  const at = Math.min(seat, Math.max(1, seats));
  const { answer, fault, busy } = useLook("paper/sheets", { ...setOf(chosen), show, seat: String(at) }, state.pulls);
  const what = show === "lab" && answer && !answer.lab ? "sheet" : show;
  return html`<${PaperScreen} name="sheets" title=${told.title} about=${answer && told.set(answer.code)} label=${answer?.label} day=${day} state=${state}>
    <div class="pp-body">
      <div class="pp-left">
        <section class="pp-part"><h2>${words.problems}</h2>
          <${Kinds} offer=${offer} levels=${chosen.levels} kinds=${chosen.kinds} put=${(levels, kinds) => change({ levels, kinds })} title=${words.kindsOf} how=${words.kindsHow} atLeastOne />
          <div class="pp-row"><${Field} name="seats" whole chosen=${chosen} change=${change} /><${Field} name="seed" whole chosen=${chosen} change=${change} />
            <${Choice} name="paper" chosen=${chosen} change=${change} options=${Object.entries(words.papers)} /></div>
          <div class="pp-ticks">${["large_print", "plain_type", "comma"].map((name) => html`<${Tick} name=${name} chosen=${chosen} change=${change} />`)}</div></section>
        <${Coefficients} chosen=${chosen} change=${change} offer=${offer} found=${answer} />
        <nav class="pp-nav"><a href="#review">${told.review}</a> <a href="#items">${told.items}</a></nav>
      </div>
      <div class="pp-right">
        <div class="pp-bar">
          <div class="pp-show" role="group" aria-label=${told.showing}>${Object.entries(told.show).filter(([name]) => name !== "lab" || answer?.lab).map(([name, word]) => html`<button
            aria-pressed=${what === name} onClick=${() => setShow(name)}>${word}</button>`)}</div>
          ${what === "sheet" && html`<${Seat} seat=${at} seats=${answer?.seats ?? seats} go=${setSeat} />`}
          <${Take} path="paper/sheets/take" files=${["pdf", "html"].map((form) => ({ word: told[form], body: { ...setOf(chosen), what, form } }))} />
        </div>
        <${FaultWords} fault=${fault} />
        ${answer?.notes.map((note) => html`<p class="pp-note">${note}</p>`)}
        <${Page} view=${answer?.view ?? null} busy=${busy} title=${answer ? told.frame(what, answer.code, answer.seat) : ""} />
        ${answer && html`<p class="pp-caution">${answer.caution}</p>`}
      </div>
    </div>
  </${PaperScreen}>`;
}

function Seat({ seat, seats, go }) {
  return html`<div class="pp-step"><button aria-label=${told.before} disabled=${seat <= 1} onClick=${() => go(seat - 1)}>−</button>
    <span role="status">${told.seat} <b>${seat}</b> ${told.of(seats)}</span>
    <button aria-label=${told.after} disabled=${seat >= seats} onClick=${() => go(seat + 1)}>+</button></div>`;
}
