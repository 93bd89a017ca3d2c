/** Logbook: the days, their pulls, search; any pull can be held up, any two compared. */
import { html, useEffect, useState } from "./html.js";
import { FaultWords, Label, Stamp } from "./parts.js";
import { SheetHead } from "./ribbon.js";
import { pullHash } from "./routes.js";
import { amount, glued } from "./told.js";
import { useAnswer } from "./use-answer.js";
import { words } from "./words.js";

/** @param {{route: import("./routes.js").Route, day: import("./day.js").Day, state: import("./state.js").State, sought: string, search: (text: string) => void}} props */
export function Logbook({ route, day, state, sought, search }) {
  const shown = route.day ?? state.day;
  const days = useAnswer("days", [state.pulls.length]);
  const one = useAnswer(shown ? `days/${shown}` : null, [shown, shown === state.day ? state.pulls : null]);
  const found = useAnswer(sought ? `search?text=${encodeURIComponent(sought)}` : null, [sought]);
  const rows = sought ? (found.answer?.found ?? []) : (one.answer?.pulls ?? []).map((pull) => ({ day: shown, pull }));
  return html`<main class="sheet logbook">
    <${SheetHead} title=${words.titles.logbook} day=${day} state=${state} />
    <div class="sheet-body logbook-body">
      <div class="logbook-days"><${Search} sought=${sought} search=${search} />
        <${Days} days=${days.answer?.days} shown=${sought ? null : shown} clear=${() => search("")} /></div>
      <div class="logbook-pulls">
        <${FaultWords} fault=${days.fault ?? one.fault ?? found.fault} />
        ${sought && found.answer && html`<p role="status" class="found">${words.logbook.found(rows.length, sought)}</p>`}
        <${Pulls} rows=${rows} today=${state.day} waiting=${!sought && !one.answer && !one.fault} />
        ${!sought && one.answer?.news?.length > 0 && html`<h2>${words.logbook.news}</h2><ul class="news">${one.answer.news.map((n) => html`<li>${n.sentence}</li>`)}</ul>`}
      </div>
    </div>
  </main>`;
}

function Search({ sought, search }) {
  const [text, setText] = useState(sought);
  useEffect(() => setText(sought), [sought]);
  return html`<form role="search" class="ask" onSubmit=${(e) => { e.preventDefault(); search(text.trim()); }}>
    <label>${words.logbook.search} <input type="search" value=${text} placeholder=${words.logbook.searchHint} onInput=${(e) => { setText(e.target.value); if (!e.target.value) search(""); }} /></label>
    <button>${words.logbook.find}</button></form>`;
}

function Days({ days, shown, clear }) {
  if (!days) return html`<p>${words.logbook.fetching}</p>`;
  if (!days.length) return html`<p>${words.logbook.none}</p>`;
  return html`<h2>${words.logbook.days}</h2><ul class="days">${days.map((d) => html`<li>
    <a href=${`#logbook/${d.day}`} aria-current=${d.day === shown ? "true" : undefined} onClick=${clear}><b>${d.day}</b> ${d.today ? words.logbook.today : ""}
      <span>${words.logbook.pulls(d.pulls, d.set_aside ?? 0)} <${Label} label=${d.label} /></span></a></li>`)}</ul>`;
}

function Pulls({ rows, today, waiting }) {
  const [marked, setMarked] = useState(/** @type {string[]} */ ([]));
  if (!rows.length) return waiting ? html`<p>${words.logbook.fetching}</p>` : html`<p>${words.logbook.noPulls}</p>`;
  const name = (r) => `${r.day} ${r.pull.number}`;
  const chosen = rows.filter((r) => marked.includes(name(r)));
  const oneDay = chosen.length > 1 && chosen.every((r) => r.day === chosen[0].day);
  const on = (r) => (r.day === today ? null : r.day);
  const turn = (r) => setMarked(marked.includes(name(r)) ? marked.filter((m) => m !== name(r)) : [...marked, name(r)]);
  const { column } = words.logbook;
  return html`<div class="rows-wrap"><table class="pull-rows" role="table">
    <thead role="rowgroup"><tr role="row"><th scope="col" role="columnheader">${column.pull}</th><th scope="col" role="columnheader">${column.static}</th><th scope="col" role="columnheader">${column.kinetic}</th><th scope="col" role="columnheader">${column.verdict}</th><th scope="col" role="columnheader">${column.said}</th></tr></thead>
    <tbody role="rowgroup">${rows.map((r) => html`<tr role="row">
      <th scope="row" role="rowheader"><label class="check-label"><input type="checkbox" checked=${marked.includes(name(r))} onChange=${() => turn(r)} aria-label=${words.logbook.mark(r.pull.number)} /></label>
        <a href=${pullHash([r.pull.number], on(r))}>${words.reading.pull(r.pull.number)}</a> ${r.day !== today && html`<small>${r.day}</small>`} <${Label} label=${r.pull.label} /></th>
      <td role="cell" class="t-static"><span class="narrow-name" aria-hidden="true">${column.static} </span>${amount(r.pull.breakaway)}</td>
      <td role="cell" class="t-kinetic"><span class="narrow-name" aria-hidden="true">${column.kinetic} </span>${amount(r.pull.kinetic)}</td>
      <td role="cell" class="row-verdict"><${Stamp} verdict=${r.pull.verdict} aside=${r.pull.aside !== null} /></td>
      <td role="cell" class="row-said">${r.pull.aside !== null ? words.sheet.isAside(r.pull.aside) : glued(r.pull.findings[0]?.sentence ?? "")}</td></tr>`)}</tbody>
  </table></div>
  ${oneDay && html`<p><a class="button" href=${pullHash(chosen.map((r) => r.pull.number), on(chosen[0]))}>${words.logbook.compare}</a></p>`}`;
}
