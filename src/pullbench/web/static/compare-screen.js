/** Two or more pulls on one strip, laid with their breakaways on one line. */
import { html, useEffect, useState } from "./html.js";
import { FaultWords, Label, Stamp } from "./parts.js";
import { Picture } from "./picture.js";
import { get, pullPath, Refused } from "./requests.js";
import { SheetHead } from "./ribbon.js";
import { pullHash } from "./routes.js";
import { DASHES, drawCompared } from "./sheet-picture.js";
import { Slips } from "./slips.js";
import { kineticWords, staticWords } from "./told.js";
import { words } from "./words.js";

/** @param {{route: import("./routes.js").Route, day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Compared({ route, day, state }) {
  const { pulls: numbers } = route;
  const on = route.day === state.day ? null : route.day;
  const [cards, setCards] = useState(/** @type {import("./types.js").CardPlus[]|null} */ (null));
  const [fault, setFault] = useState(/** @type {import("./types.js").Fault|null} */ (null));
  useEffect(() => {
    let wanted = true;
    Promise.all(numbers.map((n) => get(pullPath(n, on)))).then(
      (all) => { if (wanted) { setCards(all); setFault(null); } },
      (refused) => { if (wanted && refused instanceof Refused) setFault(refused.fault); },
    );
    return () => { wanted = false; };
  }, [numbers.join(), on]);
  const apart = useApart(numbers, on, cards);
  const shown = cards?.filter((c) => numbers.includes(c.number)) ?? [];
  return html`<main class="sheet compare">
    <${SheetHead} title=${words.sheet.compare(numbers)} day=${day} state=${state} />
    <${FaultWords} fault=${fault} />
    ${shown.length > 0 && html`<div class="whole-place tall">
        <${Picture} kind="whole" of=${[cards, numbers.join()]} draw=${(at) => drawCompared(at, shown)}
          describe=${shown.map((c) => `${words.reading.pull(c.number)}: ${staticWords(c)}, ${kineticWords(c)}`).join("; ")} /></div>
      <ul class="compared">${shown.map((card, i) => html`<${Line} card=${card} i=${i} numbers=${numbers} on=${on} />`)}</ul>
      ${apart && html`<div class="apart" role="status"><ul>${apart.differences.map((d) => html`<li class=${d.quantity === "kinetic" ? "t-kinetic" : "t-static"}>${d.sentence}</li>`)}</ul>
        <p>${apart.says}</p></div>`}`}
    ${!on && html`<${Slips} day=${day} pulls=${state.pulls} label=${state.label} but=${numbers} link=${(n) => pullHash([...numbers, n])} />`}
  </main>`;
}

/** How the other pulls differ from the first, fetched anew when one of them is read again. */
function useApart(numbers, on, cards) {
  const [found, put] = useState(/** @type {{differences: any[], says: string}|null} */ (null));
  useEffect(() => {
    if (!cards || numbers.length < 2) return undefined;
    let wanted = true;
    get(`compare?pulls=${numbers.join("+")}${on ? `&day=${on}` : ""}`.replaceAll("+", "%2B")).then((told) => wanted && put(told), () => wanted && put(null));
    return () => { wanted = false; };
  }, [numbers.join(), on, cards]);
  return found;
}

function Line({ card, i, numbers, on }) {
  const rest = numbers.filter((n) => n !== card.number);
  const dash = DASHES[i % DASHES.length].join(" ") || "none";
  return html`<li>
    <svg class="line-sample" viewBox="0 0 60 8" aria-hidden="true"><path class="ink" d="M4,4H56" stroke-dasharray=${dash} /></svg>
    <a href=${pullHash([card.number], on)}>${words.reading.pull(card.number)}</a>
    <${Stamp} verdict=${card.verdict} aside=${card.aside !== null} />
    <span class="compared-said"><span class="t-static">${staticWords(card)}</span>, <span class="t-kinetic">${kineticWords(card)}</span> <${Label} label=${card.label} />
      ${card.breakaway.at_s === null && ` ${words.sheet.noAlign(card.number)}`}</span>
    <a class="plain" href=${pullHash(rest, on)}>${words.sheet.without(card.number)}</a>
  </li>`;
}
