/** Surface pairs: every pull a mark, every mean in its limits, and whether two surfaces are the same. */
import { html, useState } from "./html.js";
import { LawPicture } from "./law-picture.js";
import { GreyedWords, LawSaid, sentencesOf, Voices } from "./law-parts.js";
import { FaultWords, Label } from "./parts.js";
import { SheetHead } from "./ribbon.js";
import { pullHash } from "./routes.js";
import { SettingNow, SettingPanel } from "./setting-bar.js";
import { useAnswer, useRoom } from "./use-answer.js";
import { words } from "./words.js";

const QUANTITIES = /** @type {const} */ (["kinetic", "static"]);

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Surfaces({ day, state }) {
  const [quantity, choose] = useState(/** @type {"kinetic"|"static"} */ ("kinetic"));
  const [margin, setMargin] = useState("");
  const [open, setOpen] = useState(false);
  const [each, setEach] = useState(false);
  const room = useRoom();
  const within = Number(margin.trim().replace(",", "."));
  const wrong = margin.trim() !== "" && !(within > 0 && within < 100);
  const asked = `surfaces?quantity=${quantity}&room=${room}${margin.trim() && !wrong ? `&margin=${within}` : ""}`;
  const { answer, fault } = useAnswer(asked, [asked, state.pulls, state.connection], { keep: true, calm_ms: 150 });
  const law = answer ?? {};
  const [first = "", ...rest] = law.cannot ? [law.cannot] : sentencesOf(law.sentence ?? "");
  const pairs = each && law.each?.length > 0;
  return html`<main class="sheet law pairs">
    <${SheetHead} title=${words.titles.surfaces} day=${day} state=${state}><${SettingNow} state=${state} open=${open} turn=${() => setOpen(!open)} /></${SheetHead}>
    ${open && html`<${SettingPanel} state=${state} surfaces=${(law.surfaces ?? []).map((one) => one.name)} close=${() => setOpen(false)} />`}
    ${law.svg && html`<${LawPicture} svg=${law.svg} describe=${`${words.titles.surfaces}. ${words.law.points}`} />`}
    <div class="law-foot">
      <${FaultWords} fault=${fault ?? state.fault} />
      <div class="said-beside"><div role="status" aria-live="polite">${answer ? html`<${LawSaid} sentence=${first} fix=${null} cannot=${Boolean(law.cannot)} />` : !fault && html`<p>${words.law.waiting}</p>`}</div>
      <div class="law-choice" role="group" aria-label=${words.law.quantity}>
        ${QUANTITIES.map((name) => html`<button class=${`t-${name}`} aria-pressed=${name === quantity ? "true" : "false"} onClick=${() => choose(name)}>${words.law[name]}</button>`)}
        ${law.each?.length > 0 && html`<button aria-pressed=${pairs ? "true" : "false"} onClick=${() => setEach(!each)}>${words.law.eachPair}</button>`}
        <label>${words.law.margin} <input size="5" inputmode="decimal" placeholder="0.05" value=${margin} aria-invalid=${wrong ? "true" : undefined} onInput=${(e) => setMargin(e.target.value)} /></label>
        ${wrong && html`<p role="alert">${words.law.marginWrong}</p>`}
      </div>
      </div>
      ${answer && html`<${Voices} room=${pairs ? law.each.join(" ") : rest.join(" ")} colleague=${law.cannot ? "" : pairs ? law.colleague_each.join(" ") : law.colleague_sentence}>
        <p class="counted">${(law.surfaces ?? []).map((one) => html`<${OneSurface} ...${one} />`)}<${GreyedWords} greyed=${law.greyed} /> <${Label} label=${state.label} /></p></${Voices}>`}
    </div>
  </main>`;
}

/** @param {{name: string, pulls: number[]}} props */
function OneSurface({ name, pulls }) {
  return html`<span class="one-surface"><b>${name}</b>: ${words.reading.pulls(pulls.length)} ${pulls.map((n) => html`<a href=${pullHash([n])} aria-label=${`${words.watch.holdUp} ${n}`}>${n}</a> `)}</span> `;
}
