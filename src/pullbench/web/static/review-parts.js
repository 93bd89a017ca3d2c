/** What a review shows: the proposal by seat, counts without seats, and the slips that are handed back. */
import { html } from "./html.js";
import { words } from "./paper-words.js";

const told = words.review;

/** @param {{seat: number, problem: number, part: string}} one */
export const placeOf = (one) => `${one.seat}/${one.problem}/${one.part}`;

/** @param {{found: any, approved: string[], approve: (places: string[]) => void, back: () => void}} props */
export function Proposed({ found, approved, approve, back }) {
  const { answers, complaints } = found.review;
  const turn = (place) => approve(approved.includes(place) ? approved.filter((one) => one !== place) : [...approved, place]);
  const every = answers.length > 0 && approved.length === answers.length;
  return html`<div class="pp-bar rv-bar"><p class="rv-state" role="status">${approved.length ? told.approved(approved.length, answers.length) : told.proposed}</p>
      <button onClick=${() => approve(every ? [] : answers.map(placeOf))}>${every ? told.noneOf : told.all}</button>
      <button disabled=${!approved.length} onClick=${back}>${told.back}</button></div>
    <div class="rv-scroll" tabindex="0" role="region" aria-label=${told.title}><${Counts} found=${found} /><table class="rv-rows">
      <thead><tr><th scope="col">${told.columns.where}</th><th scope="col">${told.columns.typed}</th><th scope="col">${told.columns.shows}</th><th scope="col">${told.columns.approve}</th></tr></thead>
      ${bySeat(answers).map(([seat, own]) => html`<tbody><tr class="rv-seat"><th scope="rowgroup" colspan="4">${told.seat(seat)}</th></tr>
        ${own.map((one) => html`<tr class=${`rv-${one.outcome}`}><th scope="row">${one.problem}${one.part}</th><td class="rv-typed">${one.typed}</td>
          <td><b>${shows(found, one)}</b> ${one.told.join(" ")}</td>
          <td><label class="check-label"><input type="checkbox" checked=${approved.includes(placeOf(one))} aria-label=${told.approve(seat, `${one.problem}${one.part}`)} onChange=${() => turn(placeOf(one))} /></label></td></tr>`)}</tbody>`)}
    </table>
    ${complaints.length > 0 && html`<section class="rv-mend"><h2>${told.complaints}</h2><ul>${complaints.map((one) => html`<li>${one}</li>`)}</ul></section>`}</div>`;
}

function bySeat(answers) {
  /** @type {Map<number, any[]>} */
  const seats = new Map();
  for (const one of answers) seats.set(one.seat, [...(seats.get(one.seat) ?? []), one]);
  return [...seats];
}

/** An idea is named by its kind and its short name; the sentence stands after it. */
function shows(found, one) {
  const flags = one.flags.map((flag) => told.flags[flag]);
  const outcome = one.outcome === "idea" ? `${told.ideaKinds[found.named[one.idea]]}: ${one.idea}`
    : one.outcome === "follows" ? `${told.outcomes.follows} ${one.follows}` : told.outcomes[one.outcome];
  return `${[outcome, ...flags].join("; ")}.`;
}

/** @param {{found: any}} props counts by outcome, idea and slip: no seats */
function Counts({ found }) {
  const { outcomes, flags, ideas, answers, complaints } = found.review;
  const rows = (counts, word) => Object.entries(counts).filter(([, n]) => n).map(([name, n]) => html`<li><b>${n}</b> <span>${word(name)}</span></li>`);
  const noted = rows(flags, (flag) => told.flags[flag]);
  return html`<div class="rv-counts">
    <section><h2>${told.answers(answers.length)}</h2><ul>${rows(outcomes, (name) => told.counted[name])}${complaints.length > 0 && html`<li><b>${complaints.length}</b> <span>${told.mend(complaints.length)}</span></li>`}</ul></section>
    ${Object.keys(ideas).length > 0 && html`<section class="rv-ideas"><h2>${told.ideas}</h2><ul>${rows(ideas, (name) => `${told.ideaKinds[found.named[name]]}: ${name}`)}</ul></section>`}
    ${noted.length > 0 && html`<section><h2>${told.noted}</h2><ul>${noted}</ul></section>`}
  </div>`;
}

/** @param {{slips: string[], back: () => void}} props printed alone: seats and sentences, no names */
export function Slips({ slips, back }) {
  return html`<div class="pp-bar rv-bar"><h2>${told.handedBack}</h2><button onClick=${() => print()}>${told.print}</button><button onClick=${back}>${told.toReview}</button></div>
    <div class="rv-slips" tabindex="0" role="region" aria-label=${told.handedBack}>${slips.map((slip) => html`<article>${slip.split("\n").map((line) => html`<p>${line.trim()}</p>`)}</article>`)}</div>`;
}
