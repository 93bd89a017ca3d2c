/** Pull sheet: one held-up pull, whole and close up, its marks movable; or several on one strip. */
import { html, useEffect, useState } from "./html.js";
import { AskWhy } from "./aside.js";
import { Compared } from "./compare-screen.js";
import { Drawer } from "./drawer.js";
import { Flag } from "./flags.js";
import { FaultWords, Label, Said, Stamp } from "./parts.js";
import { Picture } from "./picture.js";
import { SheetHead } from "./ribbon.js";
import { pullHash } from "./routes.js";
import { PullSetting } from "./setting-bar.js";
import { closeStretch, drawClose, drawWhole, wholeStretch } from "./sheet-picture.js";
import { glued, kineticWords, staticWords } from "./told.js";
import { unitNow } from "./unit.js";
import { usePull } from "./use-pull.js";
import { words } from "./words.js";

/** @param {{route: import("./routes.js").Route, day: import("./day.js").Day, state: import("./state.js").State}} props */
export function PullSheet({ route, day, state }) {
  if (route.pulls.length > 1) return html`<${Compared} route=${route} day=${day} state=${state} />`;
  return html`<${OnePull} number=${route.pulls[0]} on=${route.day === state.day ? null : route.day} day=${day} state=${state} />`;
}

function OnePull({ number, on, day, state }) {
  const live = on ? undefined : state.pulls.find((p) => p.number === number);
  const { card, fault, reading, mark, send } = usePull(number, on, live);
  const [asking, ask] = useState(false);
  const [open, setOpen] = useState(false);
  const teacher = state.role === "teacher";
  useSheetCommands({
    why: () => setOpen((was) => !was), aside: (why) => (card?.aside !== null ? undefined : why ? send("/aside", { why }) : ask(true)),
    back: () => send("/back", {}), unmark: () => send("/unmark", {}), breakaway: () => focusFlag("breakaway"), from: () => focusFlag("from"),
  }, [card, teacher]);
  const title = words.sheet.title(number) + (on ? ` ${words.sheet.of(on)}` : "");
  if (!card) {
    return html`<main class="sheet"><${SheetHead} title=${title} day=${day} state=${state} />
      <div class="sheet-body">${fault ? html`<${FaultWords} fault=${fault} />` : html`<p>${live?.provisional ? words.sheet.first : words.sheet.loading}</p>`}</div></main>`;
  }
  const stretch = wholeStretch(card);
  const close = closeStretch(card);
  return html`<main class="sheet pull-sheet">
    <${SheetHead} title=${title} day=${day} state=${state}><${Stamp} verdict=${card.verdict} aside=${card.aside !== null} /></${SheetHead}>
    <div class="whole-place">
      <${Picture} kind="whole" of=${[card]} draw=${(at) => drawWhole(at, card, stretch, close)}
        describe=${`${words.sheet.whole}: ${staticWords(card)}, ${kineticWords(card)}`} />
      <${Flags} card=${card} stretch=${stretch} mark=${mark} fixed=${!teacher} />
    </div>
    ${close && html`<${Hairlines} stretch=${stretch} close=${close} />`}
    <div class="close-place">
      ${close ? html`<${Picture} kind="close" of=${[card]} draw=${(at) => drawClose(at, card, close)} describe=${words.sheet.zoomed} />
        <p class="close-word">${(teacher ? words.sheet.closeUp : words.sheet.closeUpRead)((close.to_s - close.from_s).toFixed(2))}</p>`
      : html`<p class="close-none">${words.sheet.noBreak}</p>`}
    </div>
    <div class="sheet-right" tabindex="0" role="group" aria-label=${words.sheet.findings}>
      <div role="status" aria-live="polite"><${Said} sentence=${card.fix ?? words.sheet.nothingToChange} fix=${null} />
        <p class="sheet-said">${card.aside !== null ? words.sheet.isAside(card.aside) : glued(card.sentence)} <${Label} label=${card.label} />
          ${card.marked && ` ${words.sheet.marked}`}${card.read_again && ` ${words.sheet.readAgain}`}<span class=${reading ? "reading" : "unseen"}>${reading ? ` ${words.sheet.reading}` : ""}</span></p></div>
      <${FaultWords} fault=${fault} />
      ${asking ? html`<${AskWhy} set=${(why) => { ask(false); send("/aside", { why }); }} cancel=${() => ask(false)} />`
      : html`<${Actions} card=${card} number=${number} on=${on} state=${state} ask=${() => ask(true)} send=${send} />`}
      <${Drawer} card=${card} open=${open} turn=${() => setOpen(!open)} />
    </div>
  </main>`;
}

const focusFlag = (id) => /** @type {HTMLElement|null} */ (document.querySelector(`[data-flag=${id}]`))?.focus();

/** Commands typed or keyed reach the sheet by an event, so that the sheet alone knows what they mean. */
function useSheetCommands(acts, of) {
  useEffect(() => {
    const act = (/** @type {any} */ { detail }) => {
      const [name, ...rest] = detail.split(" ");
      acts[name]?.(rest.join(" "));
    };
    addEventListener("pullbench-sheet", act);
    return () => removeEventListener("pullbench-sheet", act);
  }, of);
}

function Flags({ card, stretch, mark, fixed }) {
  const { breakaway, kinetic, trace, start_s, end_s } = card;
  const shared = { time_s: trace.time_s, stretch, start_s, fixed };
  const slid = kinetic.from_s !== null && kinetic.to_s !== null;
  // Two flags that hang towards each other need room for both words.
  const room = slid ? (kinetic.to_s - kinetic.from_s) / (stretch.to_s - stretch.from_s) : 1;
  const tight = room * innerWidth < 350 * unitNow().u;
  const step_s = trace.time_s.length > 1 ? trace.time_s[1] - trace.time_s[0] : 0.01;
  const firstFlag = breakaway.at_s ?? (fixed ? null : highestMoment(card));
  return html`<div class=${`flags ${tight ? "tight" : ""}`}>
    ${firstFlag !== null && html`<${Flag} ...${shared} id="breakaway" name=${words.sheet.breakaway} side="left" at_s=${firstFlag}
      within=${[start_s, slid ? kinetic.from_s : end_s]} move=${(s) => mark({ breakaway_s: s })} />`}
    ${slid && html`<${Flag} ...${shared} id="from" name=${words.sheet.from} short=${tight ? words.sheet.fromShort : words.sheet.from} side="right" at_s=${kinetic.from_s}
      within=${[breakaway.at_s ?? start_s, kinetic.to_s - 5 * step_s]} move=${(s) => mark({ sliding_s: [s, kinetic.to_s] })} />
    <${Flag} ...${shared} id="to" name=${words.sheet.to} short=${tight ? words.sheet.toShort : words.sheet.to} side="left" at_s=${kinetic.to_s}
      within=${[kinetic.from_s + 5 * step_s, end_s]} move=${(s) => mark({ sliding_s: [kinetic.from_s, s] })} />`}
  </div>`;
}

/** Where a breakaway is offered to the hand when none was found. */
function highestMoment({ trace, direction }) {
  const pulls = trace.force_N.map((f) => f * direction);
  return trace.time_s[pulls.indexOf(Math.max(...pulls))] ?? null;
}

/** Two lines join the close-up to the stretch it enlarges. */
function Hairlines({ stretch, close }) {
  const at = (s) => 1280 * Math.min(Math.max((s - stretch.from_s) / (stretch.to_s - stretch.from_s), 0), 1);
  const [a, b] = [at(close.from_s), at(close.to_s)];
  return html`<svg class="hairlines" viewBox="0 0 1280 86" preserveAspectRatio="none" aria-hidden="true">
    <path class="rule" d=${`M${a},0V70L40,86M${b},0V70L520,86`} vector-effect="non-scaling-stroke" /></svg>`;
}

function Actions({ card, number, on, state, ask, send }) {
  const teacher = state.role === "teacher";
  const others = on ? [] : state.pulls.filter((p) => p.number !== number).slice(-5);
  return html`<div class="actions" role="group" aria-label=${words.sheet.actions}>
    ${teacher && (card.aside === null ? html`<button onClick=${ask}>${words.sheet.aside}</button>` : html`<button onClick=${() => send("/back", {})}>${words.sheet.back}</button>`)}
    ${teacher && card.marked && html`<button onClick=${() => send("/unmark", {})}>${words.sheet.unmark}</button>`}
    ${!on && html`<${PullSetting} card=${card} teacher=${teacher} send=${(body) => send("/setting", body)} />`}
    ${!on && html`<a href=${pullHash([number]).replace("#pull", "#forces")}>${words.titles.forces}</a>`}
    ${others.length > 0 && html`<span class="with">${words.sheet.with} ${others.map((p) => html`<a href=${pullHash([number, p.number])} aria-label=${`${words.sheet.with} ${words.reading.pull(p.number)}`}>${p.number}</a> `)}</span>`}
  </div>`;
}
