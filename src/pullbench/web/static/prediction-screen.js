/** Prediction slip on the projector: ask, count the slips, commit, pull, reveal: slips beside the outcome. */
import { html, useState } from "./html.js";
import { countsOf, numbersOf } from "./hands.js";
import { FaultWords, Label } from "./parts.js";
import { RevealedNumbers, RevealedWords } from "./revealed.js";
import { SheetHead } from "./ribbon.js";
import { SettingNow } from "./setting-bar.js";
import { glued } from "./told.js";
import { useOrder } from "./use-answer.js";
import { words } from "./words.js";

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function PredictionSheet({ day, state }) {
  const { prediction } = state;
  const { order, fault } = useOrder();
  const teacher = state.role === "teacher";
  return html`<main class="sheet law prediction">
    <${SheetHead} title=${words.titles.prediction} day=${day} state=${state} />
    <div class="law-foot">
      <${FaultWords} fault=${fault ?? state.fault} />
      ${!prediction && (teacher ? html`<${Ask} order=${order} />` : html`<p class="law-said">${words.prediction.none} <strong>${words.prediction.watcher}</strong></p>`)}
      ${prediction && html`<p class=${`question ${prediction.state}`}>${glued(prediction.question)}</p>
        ${prediction.state === "revealed" ? html`<${Revealed} told=${prediction} label=${state.label} />` : html`<${Count} told=${prediction} state=${state} />`}
        ${teacher && html`<${Steps} told=${prediction} state=${state} order=${order} />`}`}
    </div>
  </main>`;
}

/** Open a question. */
function Ask({ order }) {
  const { prediction: say } = words;
  const [kind, setKind] = useState(/** @type {"kinetic_N"|"static_N"|"which"} */ ("kinetic_N"));
  const [question, ask] = useState(/** @type {string|null} */ (null));
  const [options, setOptions] = useState(say.optionsFirst);
  const open = (event) => {
    event.preventDefault();
    const asked = (question ?? "").trim() || say.asks[kind];
    const which = { kind: "which", question: asked, options: options.split(",").map((o) => o.trim()).filter(Boolean) };
    order("prediction/open", kind === "which" ? which : { kind: "number", quantity: kind, question: asked });
  };
  const choice = (name, text) => html`<button type="button" aria-pressed=${kind === name ? "true" : "false"} onClick=${() => setKind(name)}>${text}</button>`;
  return html`<form class="ask-class" onSubmit=${open}>
    <p class="law-said">${say.ask}</p>
    <div class="law-choice" role="group" aria-label=${say.ask}>${choice("kinetic_N", say.kinetic)}${choice("static_N", say.static)}${choice("which", say.which)}</div>
    <label>${say.question} <input value=${question ?? ""} placeholder=${say.asks[kind]} maxlength="200" onInput=${(e) => ask(e.target.value)} /></label>
    ${kind === "which" && html`<label>${say.options} <input value=${options} maxlength="200" onInput=${(e) => setOptions(e.target.value)} /></label>`}
    <button class="onward">${say.open}</button>
  </form>`;
}

/** Before the reveal only their number is told: nobody copies a neighbour. */
function Count({ told, state }) {
  const { prediction: say } = words;
  return html`<div class="count-row">
    <p class="count" role="status" aria-live="polite"><span class="count-number">${told.count}</span> <span>${say.slips(told.count)} ${told.state === "open" ? say.handedIn : ""}</span></p>
    ${told.state === "open" ? html`<p class="phones">${state.join ? say.phones(state.join.url.replace(/#.*$/, ""), state.join.code) : say.noPhones}</p>`
    : html`<p class="phones">${told.committed_before_pull !== null && say.before(told.committed_before_pull)} <strong>${told.decided ? say.ready : say.pullNow}</strong></p>`}
    ${told.kind === "which" && html`<p class="options">${told.options.map((o) => html`<span class="option-word">${o}</span>`)}</p>`}
  </div>`;
}

function Steps({ told, state, order }) {
  const { prediction: say } = words;
  if (told.state === "open") {
    return html`<${Hands} told=${told} order=${order} />
      <div class="steps"><button class="onward" onClick=${() => order("prediction/commit")}>${say.commit}</button><p>${say.commitHow}</p><button class="plain" onClick=${() => order("prediction/clear")}>${say.clear}</button></div>`;
  }
  if (told.state === "committed") {
    return html`<div class="steps"><button class="onward" onClick=${() => order("prediction/reveal")}>${say.reveal}</button>
      ${told.kind === "which" && told.options.map((option) => html`<button onClick=${() => order("prediction/reveal", { option })}>${say.itWas(option)}</button>`)}<${SettingNow} state=${{ ...state, role: "watcher" }} open=${false} turn=${() => {}} />
      <button class="plain" onClick=${() => order("prediction/clear")}>${say.clear}</button></div>`;
  }
  return html`<div class="steps"><button onClick=${() => order("prediction/clear")}>${say.clear}</button></div>`;
}

/** A room without phones: the teacher types what was called out, or how many hands went up. */
function Hands({ told, order }) {
  const { prediction: say } = words;
  const [typed, setTyped] = useState(/** @type {Record<string, string>} */ ({}));
  const [sorry, setSorry] = useState("");
  const give = async (event) => {
    event.preventDefault();
    const body = told.kind === "number" ? numbersOf(typed[""] ?? "") : countsOf(typed, told.options);
    if (!body) return setSorry(told.kind === "number" ? say.notNumbers : say.notCounts);
    setSorry("");
    if (await order("prediction/hands", body)) setTyped({});
  };
  const field = (name, label, size) => html`<label>${label} <input inputmode=${told.kind === "number" ? "text" : "numeric"} size=${size} autocomplete="off" value=${typed[name] ?? ""} onInput=${(e) => setTyped({ ...typed, [name]: e.target.value })} /></label>`;
  return html`<form class="hands" onSubmit=${give} aria-label=${say.hands}>
    <h2>${say.hands}</h2>
    ${told.kind === "number" ? field("", say.values, 24) : told.options.map((o) => field(o, say.addWords(o), 3))}
    <button>${say.add}</button>
    ${sorry && html`<p role="alert">${sorry}</p>`}
  </form>`;
}

function Revealed({ told, label }) {
  return html`<p class="law-said" role="status" aria-live="polite">${glued(told.sentence ?? "")} <${Label} label=${label} /></p>
    ${told.kind === "number" ? html`<${RevealedNumbers} told=${told} />` : html`<${RevealedWords} told=${told} />`}`;
}
