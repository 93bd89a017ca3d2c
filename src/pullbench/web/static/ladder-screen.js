/** Load ladder: friction against load, growing with every pull; what is wrong and its one fix; the law in two voices. */
import { html, useState } from "./html.js";
import { LawPicture } from "./law-picture.js";
import { GreyedWords, LawSaid, SurfaceChoice, Voices } from "./law-parts.js";
import { FaultWords, Label } from "./parts.js";
import { SheetHead } from "./ribbon.js";
import { SettingNow, SettingPanel } from "./setting-bar.js";
import { glued } from "./told.js";
import { useAnswer, useRoom } from "./use-answer.js";
import { words } from "./words.js";

const BARE = { top: 4, foot: 3 }; // of its paper, that the sentences have more need of

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Ladder({ day, state }) {
  const [surface, choose] = useState("");
  const [open, setOpen] = useState(false);
  const room = useRoom();
  const asked = `ladder?room=${room}${surface ? `&surface=${encodeURIComponent(surface)}` : ""}`;
  const { answer, fault } = useAnswer(asked, [asked, state.pulls, state.setting, state.connection], { keep: true, calm_ms: 150 });
  const law = answer ?? {};
  return html`<main class="sheet law ladder">
    <${SheetHead} title=${words.titles.ladder} day=${day} state=${state}><${SettingNow} state=${state} open=${open} turn=${() => setOpen(!open)} /></${SheetHead}>
    ${open && html`<${SettingPanel} state=${state} surfaces=${law.surfaces} close=${() => setOpen(false)} />`}
    <div class=${law.svg ? "drawn" : "undrawn"}>
      ${law.svg && html`<${LawPicture} svg=${law.svg} trim=${BARE} describe=${`${words.titles.ladder}. ${words.law.points}`} />`}
      <${SurfaceChoice} surfaces=${law.surfaces} chosen=${surface || (law.surface ?? "")} pinned=${surface} choose=${choose} drawn=${Boolean(law.svg)} />
    </div>
    <div class="law-foot">
      <${FaultWords} fault=${fault ?? state.fault} />
      <div role="status" aria-live="polite">${answer ? html`<${Diagnosed} law=${law} />` : !fault && html`<p>${words.law.waiting}</p>`}</div>
      ${answer && html`<${Voices} room=${law.cannot ? "" : law.room_sentence} colleague=${law.cannot ? "" : law.colleague_sentence} alone=${!law.diagnoses?.length}>
        <${Also} diagnoses=${law.cannot ? [] : law.diagnoses?.slice(1) ?? []} />
        <p class="counted"><${Label} label=${state.label} /> ${words.law.onTheLine(law.pulls?.length ?? 0)}.<${GreyedWords} greyed=${law.greyed} /></p></${Voices}>`}
    </div>
  </main>`;
}

/** The first diagnosis with its fix; before there is enough, why not and what to do. */
function Diagnosed({ law }) {
  if (law.cannot) return html`<${LawSaid} sentence=${law.cannot} fix=${null} cannot />`;
  const first = law.diagnoses?.[0];
  return first ? html`<${LawSaid} sentence=${first.sentence} fix=${first.fix} />` : null;
}

/** What else was seen: by name, for whoever wants to know more. */
function Also({ diagnoses }) {
  if (!diagnoses.length) return null;
  return html`<details class="law-also"><summary>${words.law.also}: ${diagnoses.map((one) => one.name).join(", ")}</summary>
    ${diagnoses.map((one) => html`<p><b>${one.name}</b>: ${glued(one.sentence)} ${one.fix}</p>`)}</details>`;
}
