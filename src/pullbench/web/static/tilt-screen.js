/** Tilt check: a second road to the static coefficient, by the angle at which the sled slides; beside it the pull's. */
import { html, useState } from "./html.js";
import { LawPicture } from "./law-picture.js";
import { LawSaid, Voices } from "./law-parts.js";
import { FaultWords, Label, Texture } from "./parts.js";
import { SheetHead } from "./ribbon.js";
import { SettingNow, SettingPanel } from "./setting-bar.js";
import { angleIn } from "./typed-tilt.js";
import { unitNow } from "./unit.js";
import { useAnswer, useOrder, useRoom } from "./use-answer.js";
import { words } from "./words.js";

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Tilt({ day, state }) {
  const [open, setOpen] = useState(false);
  const { order, fault: refused, refuse } = useOrder();
  const room = useRoom();
  const narrow = !unitNow().wide;
  const { answer, fault } = useAnswer(`tilt?room=${room}${narrow ? "&narrow=1" : ""}`, [room, narrow, state.tilt, state.pulls, state.setting, state.connection], { keep: true, calm_ms: 150 });
  const law = answer ?? {};
  const teacher = state.role === "teacher";
  return html`<main class="sheet law tilt">
    <${SheetHead} title=${words.titles.tilt} day=${day} state=${state}><${SettingNow} state=${state} open=${open} turn=${() => setOpen(!open)} /></${SheetHead}>
    ${open && html`<${SettingPanel} state=${state} surfaces=${[]} close=${() => setOpen(false)} />`}
    ${teacher && html`<${TypeAngle} order=${order} refuse=${refuse} />`}
    ${law.svg && html`<${LawPicture} svg=${law.svg} describe=${words.tilt.beside} />`}
    <div class="law-foot">
      <${FaultWords} fault=${refused ?? fault ?? state.fault} />
      <div class="tilt-said" role="status" aria-live="polite">${(law.record?.agreements ?? []).map((one) => html`<${Answer} answer=${one.answer} />`)}
        ${answer ? html`<${LawSaid} sentence=${law.cannot ?? law.sentence ?? ""} fix=${null} cannot=${Boolean(law.cannot)} roomy />` : !fault && html`<p>${words.law.waiting}</p>`}</div>
      ${answer && html`<${Voices} room="" colleague=${law.cannot ? "" : law.colleague_sentence}>
        <${Readings} readings=${law.readings ?? []} label=${state.label} teacher=${teacher} order=${order} /></${Voices}>`}
    </div>
  </main>`;
}

/** agree, disagree, cannot tell: by border and fill, never by colour. */
function Answer({ answer }) {
  const kind = answer === "agree" ? "usable" : answer === "disagree" ? "again" : "note";
  return html`<span class=${`stamped ${kind}`}>${kind === "again" && html`<${Texture} name="aside" class="stamp-fill" />`}<span class="stamp-word">${words.tilt.answers[answer] ?? answer}</span></span>`;
}

function TypeAngle({ order, refuse }) {
  const [angle, setAngle] = useState("");
  const [sped, setSped] = useState("");
  const give = async (/** @type {"slid"|"held"|"slide"} */ kind) => {
    const angle_deg = angleIn(angle);
    if (angle_deg === null || angle_deg > 90) return refuse(words.tilt.notAnAngle(angle), words.tilt.allowed, words.tilt.again);
    const more = kind === "slide" ? { acceleration_m_s2: Number(sped.replace(",", ".")) } : {};
    if (await order("tilt", { kind, angle_deg, ...more })) { setAngle(""); setSped(""); }
  };
  return html`<form class="type-angle" onSubmit=${(e) => { e.preventDefault(); give(sped.trim() ? "slide" : "slid"); }}>
    <p>${words.tilt.how}</p>
    <label>${words.tilt.angle} <input size="5" inputmode="decimal" autocomplete="off" value=${angle} onInput=${(e) => setAngle(e.target.value)} /></label>
    <button type="button" onClick=${() => give("slid")}>${words.tilt.slid}</button>
    <button type="button" onClick=${() => give("held")}>${words.tilt.held}</button>
    <label>${words.tilt.acceleration} <input size="4" inputmode="decimal" autocomplete="off" value=${sped} onInput=${(e) => setSped(e.target.value)} /></label>
    <button type="button" onClick=${() => give("slide")}>${words.tilt.slide}</button>
  </form>`;
}

function Readings({ readings, label, teacher, order }) {
  if (!readings.length) return html`<p>${words.tilt.none}</p>`;
  return html`<h2 class="unseen">${words.tilt.readings}</h2><${Label} label=${label} /><ul class="tilt-readings">${readings.map((one) => {
    const text = words.tilt.one[one.kind]?.(one.angle_deg, one.acceleration_m_s2) ?? "";
    const aside = one.aside ?? null;
    return html`<li class=${aside === null ? "" : "aside"}><span>${text}${one.surface ? `, ${one.surface}` : ""}${aside !== null ? ` (${words.watch.aside}: ${aside})` : ""}</span>
      ${teacher && html`<button class="plain" aria-label=${`${aside === null ? words.tilt.leaveOut : words.tilt.bring}: ${text}`}
        onClick=${() => order(`tilt/${one.i}/aside`, { why: aside === null ? words.tilt.why : null })}>${aside === null ? words.tilt.leaveOut : words.tilt.bring}</button>`}</li>`;
  })}</ul>`;
}
