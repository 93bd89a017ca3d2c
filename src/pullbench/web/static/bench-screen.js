/** Demonstration bench: strip, force, state in words, the last verdict with its one fix, today's pulls. */
import { html } from "./html.js";
import { FaultWords, Hand, Label, Said, Stamp, StateWord } from "./parts.js";
import { Slips } from "./slips.js";
import { Strip } from "./strip.js";
import { settingWords } from "./setting.js";
import { following } from "./view.js";
import { words } from "./words.js";

const TEXTURED = /** @type {Record<string, string>} */ ({ loading: "loading", breakaway: "settling", settling: "settling", sliding: "sliding", "stick-slip": "stick-slip" });

/**
 * @param {{day: import("./day.js").Day, state: import("./state.js").State, view: import("./view.js").View,
 *   look: (v: import("./view.js").View) => void, caption: string, doit: (id: string) => void}} props
 */
export function Bench({ day, state, view, look, caption, doit }) {
  const last = state.pulls.at(-1);
  const lost = state.greeted && state.connection !== "open";
  const now = lost ? words.line.lostWord : state.onWatch ? state.state : "stood down";
  return html`<main class="bench">
    <h1 class="unseen">${words.titles.bench}</h1>
    <header class="bench-head">
      <${Tab} state=${state} doit=${doit} />
      <p class="setting-quiet">${settingWords(state.setting)}</p>
      <p class="caption">${caption || (state.since && words.watch.since(state.since))}</p>
      <p class="from"><${Label} label=${state.label} /> ${state.source}</p>
    </header>
    <section class="now">
      <${StateWord} word=${words.states[now] ?? now} texture=${TEXTURED[now]} />
      <${Hand} force=${state.onWatch && state.connection === "open" ? state.force : null} label=${state.label} />
    </section>
    <div class="strip-place">
      <${Strip} day=${day} view=${view} look=${look} describe=${words.watch.stripNow(words.states[now] ?? now, last?.sentence ?? "")} />
      ${view.end_s !== null && html`<p class="looking">${words.watch.looking}
        <button class="plain" onClick=${() => look(following(view))}>${words.watch.toPen}</button></p>`}
    </div>
    <section class="verdict" role="status" aria-live="polite" aria-label=${words.watch.verdict}>
      <${Verdict} state=${state} last=${last} />
    </section>
    <${Slips} day=${day} pulls=${state.pulls} label=${state.label} />
  </main>`;
}

/** The watch state is a tab at the edge, and the only control in sight. */
function Tab({ state, doit }) {
  const word = state.onWatch ? words.watch.on : words.watch.off;
  if (state.role !== "teacher") return html`<p class="tab">${word}</p>`;
  return html`<button class="tab" aria-label=${state.onWatch ? words.watch.tabOn : words.watch.tabOff}
    onClick=${() => doit(state.onWatch ? "down" : "go")}>${word}</button>`;
}

/** What the bench has to say now: first of all whether it can be heard. */
function Verdict({ state, last }) {
  if (state.fault) return html`<${FaultWords} fault=${state.fault} />`;
  if (state.connection === "refused") return html`<${Said} sentence=${words.line.refused} fix=${null} />`;
  if (state.connection === "lost") return html`<${Said} sentence=${words.line.lost} fix=${words.line.again(state.retry_s)} />`;
  if (!state.greeted) return html`<${Said} sentence=${words.line.connecting} fix=${null} />`;
  if (!state.onWatch) return html`<${Said} sentence=${state.stoodDown || words.watch.stoodDown} fix=${null} />`;
  if (!last) return html`<${Said} sentence=${words.watch.waiting} fix=${words.watch.waitingFix} />`;
  return html`
    <div class="verdict-mark">
      <${Stamp} verdict=${last.verdict} aside=${last.aside !== null} />
      <p class="verdict-pull">${words.reading.pull(last.number)} <${Label} label=${last.label} />${last.provisional && ` ${words.watch.first}`}</p>
    </div>
    <${Said} sentence=${last.aside !== null ? words.sheet.isAside(last.aside) : last.sentence} fix=${last.fix} />`;
}
