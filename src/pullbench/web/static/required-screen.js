/** Required / available: two bars while what is asked grows; the lesson's own sled first. */
import { html, useEffect, useState } from "./html.js";
import { loadKept, queryOf } from "./freebody-load.js";
import { words } from "./next-lesson-words.js";
import { FaultWords, Label } from "./parts.js";
import { choice, choose } from "./kept.js";
import { get, pullPath, Refused } from "./requests.js";
import { SheetHead } from "./ribbon.js";
import { textAt, valueAt } from "./steps.js";

const told = words.required;
const SCENARIOS = Object.keys(told.scenarios);
const LONGEST = 1180; // units of the longest bar

/** The last pull whose breakaway is known; a first look has no sheet to ask for yet. @param {import("./types.js").Card[]} pulls @returns {number|null} */
export const lastWithGrip = (pulls) =>
  [...pulls].reverse().find((p) => !p.provisional && p.breakaway.kind === "value" && p.aside === null)?.number ?? null;

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Screen({ day, state }) {
  const load = loadKept();
  const pull = lastWithGrip(state.pulls);
  const said = state.pulls.some((p) => p.number === pull && p.setting?.load_kg != null && p.setting.sled_kg != null);
  const [asked, ask] = useState({
    scenario: "rider", grip: pull !== null && (said || load.load_kg) ? "pull" : "book", surfaces: choice("required-surfaces", "wood on wood"), load_kg: load.load_kg ?? "", mass_kg: "",
  });
  const { record, fault } = useRequired(asked, pull, load);
  return html`<main class="sheet required">
    <${SheetHead} title=${told.title} day=${day} state=${state}><${Label} label=${record?.label ?? null} /></${SheetHead}>
    <div class="sheet-body">
      <${Choices} asked=${asked} ask=${ask} pull=${pull} said=${said} who=${record?.who ?? ""} mass=${record?.mass_kg} />
      <${FaultWords} fault=${fault} />
      ${record ? html`<${Bars} key=${record.scenario} record=${record} />` : !fault && html`<p>${told.loading}</p>`}
    </div>
  </main>`;
}

function useRequired(asked, pull, load) {
  const [found, put] = useState(/** @type {{record: any, fault: any}} */ ({ record: null, fault: null }));
  const query = new URLSearchParams({ scenario: asked.scenario, ...(asked.mass_kg && { mass_kg: asked.mass_kg }) });
  const own = asked.grip === "pull" && pull !== null;
  if (!own) query.set("surfaces", asked.surfaces);
  const path = own ? `${pullPath(pull, null, "/required")}?${query}&${queryOf({ ...load, load_kg: asked.load_kg, rider_kg: "" })}` : `required?${query}`;
  useEffect(() => {
    let wanted = true;
    get(path).then((record) => wanted && put({ record, fault: null }),
      (refused) => wanted && put({ record: null, fault: refused instanceof Refused ? refused.fault : null }));
    return () => { wanted = false; };
  }, [path]);
  return found;
}

/** What is asked of whom, and where the grip comes from. */
function Choices({ asked, ask, pull, said, who, mass }) {
  const [typed, type] = useState(asked);
  useEffect(() => type((was) => ({ ...was, scenario: asked.scenario, grip: asked.grip })), [asked]);
  const use = (event) => {
    event.preventDefault();
    choose("required-surfaces", typed.surfaces);
    ask(typed);
  };
  const now = (change) => { type({ ...typed, ...change }); ask({ ...asked, ...change }); };
  const field = (name, word, wide, hint = "") => html`<label>${word}<input class=${wide ? "wide" : ""} name=${name} placeholder=${hint} inputmode=${wide ? "text" : "decimal"}
    value=${typed[name]} onInput=${(e) => type({ ...typed, [name]: e.target.value })} /></label>`;
  return html`<form class="rq-choices" onSubmit=${use}>
    <label>${told.scenario}<select onChange=${(e) => now({ scenario: e.target.value, mass_kg: "" })}>
      ${SCENARIOS.map((name) => html`<option value=${name} selected=${asked.scenario === name}>${told.scenarios[name]}</option>`)}</select></label>
    <label>${told.grip}<select onChange=${(e) => now({ grip: e.target.value })}>
      ${pull !== null && html`<option value="pull" selected=${asked.grip === "pull"}>${told.pull(pull)}</option>`}
      <option value="book" selected=${asked.grip === "book"}>${told.book}</option></select></label>
    ${asked.grip !== "pull" ? field("surfaces", told.surfaces, true) : !said && field("load_kg", told.load, false)}
    ${field("mass_kg", told.mass(who), false, mass === undefined ? "" : String(mass))}
    <button>${told.use}</button>
  </form>`;
}

/** The two bars, and the slider that asks for more. */
function Bars({ record }) {
  const last = record.at.steps.length - 1;
  const [i, setIndex] = useState(Math.round(last / 3));
  const answer = record.answers[i];
  const big = Math.max(...record.high.steps) * 10 ** -record.high.decimals >= 1e4;
  const text = (column, size = false) => newtons(column, i, big, size);
  const per_N = LONGEST / Math.max(...record.required.steps, ...record.high.steps);
  const units = (column) => (column.steps[i] ?? 0) * per_N;
  const there = told.between(text(record.low), text(record.high));
  const at = `${Number(valueAt(record.at, i)).toPrecision(3)}${record.unit === "°" ? "°" : ` ${record.unit}`}`;
  return html`<section class="rq" aria-label=${record.title}>
    <h2 class="unseen">${record.title}</h2>
    <label class="rq-grow"><span>${record.grows} <b>${at}</b></span>
      <input type="range" min="0" max=${last} value=${i} aria-valuetext=${`${at}. ${record.sentences[answer]}`} onInput=${(e) => setIndex(Number(e.target.value))} /></label>
    <div class="rq-bars" role="img" aria-label=${told.picture(text(record.required), there, record.sentences[answer])}>
      <p>${told.asked} ${text(record.required)}</p>
      <svg viewBox="0 0 1200 52" preserveAspectRatio="none"><rect class="rq-asked" width=${units(record.required)} height="52" /></svg>
      <p class="t-static">${told.there} ${there}</p>
      <svg viewBox="0 0 1200 52" preserveAspectRatio="none"><rect class="wall" width=${units(record.low)} height="52" />
        <rect x=${units(record.low)} width=${Math.max(0, units(record.high) - units(record.low))} height="52" fill="url(#static-band)" />
        <path class="rq-mark" d=${`M${units(record.required)},0V52`} vector-effect="non-scaling-stroke" /></svg>
    </div>
    <p class="fb-said" role="status">${record.sentences[answer]}</p>
    <p class="rq-margin">${margin(record, i, text)} ${told.most(record.largest)}${answer === "slides" && record.then ? ` ${record.then}` : ""}</p>
    <p class="rq-from">${told.from(record.told, record.label)} <strong>${record.caution}</strong></p>
  </section>`;
}

function margin(record, i, text) {
  const [low, high] = [record.margin_low.steps[i], record.margin_high.steps[i]];
  if (low >= 0) return told.spare(told.between(text(record.margin_low), text(record.margin_high)));
  if (high < 0) return told.missing(told.between(text(record.margin_high, true), text(record.margin_low, true)));
  return told.either(text(record.margin_low, true), text(record.margin_high));
}

/** @returns {string} newtons, or kilonewtons for what weighs tons */
function newtons(column, i, big, size) {
  if (!big) return `${textAt(column, i, size)} N`;
  return `${textAt({ ...column, decimals: 1, steps: [Math.round(Number(valueAt(column, i)) / 100)] }, 0, size)} kN`;
}
