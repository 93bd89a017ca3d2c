/** What is on the sled now, in a quiet place; the teacher opens it to change load, sled or surface. */
import { html, useLayoutEffect, useRef, useState } from "./html.js";
import { FaultWords } from "./parts.js";
import { changesOf, kgText, settingWords } from "./setting.js";
import { useOrder } from "./use-answer.js";
import { words } from "./words.js";

/** @typedef {import("./state.js").State} State */

/** In the head of a sheet. @param {{state: State, open: boolean, turn: () => void}} props */
export function SettingNow({ state, open, turn }) {
  const told = settingWords(state.setting);
  const text = told ? words.setting.now(told) : words.setting.unknown;
  if (state.role !== "teacher") return told ? html`<p class="setting-now">${text}</p>` : null;
  return html`<button class="setting-now" aria-expanded=${open ? "true" : "false"} aria-controls="setting-panel" onClick=${turn}><span>${text}</span></button>`;
}

/** @param {{state: State, surfaces?: string[], close: () => void}} props */
export function SettingPanel({ state, surfaces = [], close }) {
  const { order, fault, refuse } = useOrder();
  const now = state.setting;
  const first = useRef(/** @type {HTMLButtonElement|null} */ (null));
  const [typed, setTyped] = useState(/** @type {Record<string, string>} */ ({}));
  useLayoutEffect(() => first.current?.focus(), []); // before the next key is pressed
  const give = async (event) => {
    event.preventDefault();
    const { body, wrong } = changesOf(typed, now);
    if (wrong !== null) return refuse(words.setting.wrong(wrong), words.setting.allowed, words.setting.again);
    if (!Object.keys(body).length || (await order("setting", body))) close();
  };
  const field = (name, label, was, more = {}) => html`<label>${label}
    <input name=${name} size=${more.size ?? 4} value=${typed[name] ?? ""} placeholder=${was ?? ""} autocomplete="off" ...${more}
      onInput=${(e) => setTyped({ ...typed, [name]: e.target.value })} /></label>`;
  const kg = (value) => (value === null || value === undefined ? "" : kgText(value).replace(" kg", ""));
  return html`<form id="setting-panel" class="setting-panel" onSubmit=${give} aria-label=${words.setting.change}
      onKeyDown=${(e) => e.key === "Escape" && (e.stopPropagation(), e.preventDefault(), close())}>
    <button type="button" ref=${first} class="next-load" onClick=${() => order("setting", { next: true })}>${now?.step_kg ? words.setting.nextBy(kgText(now.step_kg)) : words.setting.next}</button>
    ${field("load", words.setting.load, kg(now?.load_kg), { inputmode: "decimal" })}
    ${field("sled", words.setting.sled, kg(now?.sled_kg), { inputmode: "decimal" })}
    ${field("surface", words.setting.surface, now?.surface, { size: 9, list: "surfaces", maxlength: 60 })}
    <datalist id="surfaces">${surfaces.map((one) => html`<option value=${one}></option>`)}</datalist>
    ${field("step", words.setting.step, kg(now?.step_kg), { inputmode: "decimal" })}
    ${field("pulls", words.setting.pulls, now?.pulls_per_step ? String(now.pulls_per_step) : "", { inputmode: "numeric", size: 3 })}
    <button>${words.setting.set}</button>
    <${FaultWords} fault=${fault} />
  </form>`;
}

/** One pull's own setting, and how a teacher corrects it. @param {{card: import("./types.js").CardPlus, teacher: boolean, send: (body: unknown) => void}} props */
export function PullSetting({ card, teacher, send }) {
  const [open, setOpen] = useState(false);
  const [typed, setTyped] = useState(/** @type {Record<string, string>} */ ({}));
  const [sorry, setSorry] = useState("");
  const told = settingWords(card.setting ? { ...card.setting } : null);
  const give = (event) => {
    event.preventDefault();
    const { body, wrong } = changesOf(typed, /** @type {any} */ (card.setting ?? null));
    if (wrong !== null) return setSorry(`${words.setting.wrong(wrong)} ${words.setting.allowed}`);
    if (Object.keys(body).length) send(body);
    setOpen(false);
  };
  if (!open) return teacher ? html`<button class="plain" onClick=${() => setOpen(true)}>${told || words.sheet.setting}</button>` : told && html`<span>${told}</span>`;
  const field = (name, label, was) => html`<label>${label}<input size="5" name=${name} placeholder=${was ?? ""} value=${typed[name] ?? ""} autocomplete="off"
    onInput=${(e) => setTyped({ ...typed, [name]: e.target.value })} /></label>`;
  return html`<form class="ask" onSubmit=${give} aria-label=${words.sheet.setting} onKeyDown=${(e) => e.key === "Escape" && (e.stopPropagation(), e.preventDefault(), setOpen(false))}>
    ${field("load", words.setting.load, card.setting?.load_kg)}${field("surface", words.setting.surface, card.setting?.surface)}
    <button>${words.sheet.correct}</button>${sorry && html`<p role="alert">${sorry}</p>`}</form>`;
}
