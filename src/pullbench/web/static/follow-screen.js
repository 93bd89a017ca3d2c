/** Following along on a phone: state, force, strip, the verdict. Read only. */
import { html, useState } from "./html.js";
import { keepCode } from "./kept.js";
import { Hand, Label, Said, Stamp, StateWord } from "./parts.js";
import { settingWords } from "./setting.js";
import { Strip } from "./strip.js";
import { words } from "./words.js";

/** @param {{day: import("./day.js").Day, state: import("./state.js").State, view: import("./view.js").View, look: (v: import("./view.js").View) => void, caption: string}} props */
export function Follow({ day, state, view, look, caption }) {
  if (state.connection === "refused" || /code/.test(state.fault?.code ?? "")) return html`<${AskCode} day=${day} fault=${state.fault} />`;
  const last = state.pulls.at(-1);
  const now = state.connection !== "open" && state.greeted ? words.line.lostWord : state.onWatch ? words.states[state.state] ?? state.state : words.watch.off;
  return html`<main class="follow">
    <header class="follow-head">
      <h1>${words.titles.follow}</h1>
      <p>${state.onWatch ? words.watch.on : words.watch.off} <${Label} label=${state.label} /></p>
    </header>
    ${(caption || settingWords(state.setting)) && html`<p class="follow-caption">${caption || settingWords(state.setting)}</p>`}
    ${state.prediction && html`<p class="follow-slip"><a class="button" href="#slip">${state.prediction.state === "open" ? words.slip.toSlip : words.slip.title}</a></p>`}
    <${StateWord} word=${now} />
    <${Hand} force=${state.onWatch && state.connection === "open" ? state.force : null} label=${state.label} />
    <div class="strip-place"><${Strip} day=${day} view=${view} look=${look} describe=${words.watch.stripNow(now, last?.sentence ?? "")} /></div>
    <section class="verdict" role="status" aria-live="polite" aria-label=${words.watch.verdict}>
      ${state.connection === "lost" ? html`<${Said} sentence=${words.line.lost} fix=${words.line.again(state.retry_s)} />` : last && html`
        <p class="verdict-pull">${words.reading.pull(last.number)} <${Stamp} verdict=${last.verdict} aside=${last.aside !== null} /> <${Label} label=${last.label} /></p>
        <${Said} sentence=${last.sentence} fix=${last.fix} />`}
      ${!last && state.connection === "open" && html`<${Said} sentence=${words.watch.waiting} fix=${null} />`}
    </section>
  </main>`;
}

function AskCode({ day, fault }) {
  const [code, setCode] = useState("");
  const go = (event) => {
    event.preventDefault();
    keepCode(code.trim());
    day.store.take({ kind: "error", error: null });
    day.store.take({ kind: "line", connection: "connecting" });
    day.connection.hurry();
  };
  return html`<main class="follow">
    <h1>${words.titles.follow}</h1>
    <p class="said-first">${fault?.what ?? words.line.codeAsk}</p>
    <form class="ask" onSubmit=${go}>
      <label>${words.line.code} <input value=${code} autocomplete="off" autocapitalize="characters" onInput=${(e) => setCode(e.target.value)} /></label>
      <button>${words.line.codeGo}</button>
    </form>
  </main>`;
}
