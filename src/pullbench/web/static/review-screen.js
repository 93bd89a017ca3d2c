/** Sheet review: typed answers, what they may show, and what the teacher approves of it is handed back. */
import { html, useState } from "./html.js";
import { setOf, useChoices } from "./paper-choices.js";
import { PaperScreen } from "./paper-screen.js";
import { words } from "./paper-words.js";
import { FaultWords } from "./parts.js";
import { post, Refused } from "./requests.js";
import { placeOf, Proposed, Slips } from "./review-parts.js";

const told = words.review;

/** Typed answers live in this page's memory alone: never on disk, gone when the page is closed. */
const held = { answers: "", code: "" };

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Screen({ day, state }) {
  if (state.role !== "teacher") return html`<${PaperScreen} name="review" title=${told.title} day=${day} state=${state} />`;
  return html`<${Review} day=${day} state=${state} />`;
}

function Review({ day, state }) {
  const [chosen] = useChoices();
  const [typed, type] = useState({ ...held });
  const [found, put] = useState(/** @type {any} */ (null));
  const [approved, approve] = useState(/** @type {string[]} */ ([]));
  const [slips, hand] = useState(/** @type {string[]|null} */ (null));
  const [fault, setFault] = useState(/** @type {any} */ (null));
  const write = (part) => { Object.assign(held, part); type({ ...held }); };
  const ask = async (path, more = {}) => {
    try {
      const answer = await post(path, { ...setOf(chosen), ...held, ...more });
      setFault(null);
      return answer;
    } catch (refused) {
      if (refused instanceof Refused) setFault(refused.fault);
      return null;
    }
  };
  const propose = async (event) => {
    event.preventDefault();
    const answer = await ask("paper/review");
    put(answer && { ...answer, of: { ...held } });
    approve([]);
    hand(null);
  };
  // What is handed back is what was looked at, also when somebody typed on meanwhile.
  const back = async () => {
    const places = found.review.answers.filter((one) => approved.includes(placeOf(one))).map((one) => [one.seat, one.problem, one.part]);
    const answer = await ask("paper/review/slips", { ...found.of, approved: places });
    hand(answer?.slips ?? null);
  };
  return html`<${PaperScreen} name="review" title=${told.title} about=${found && told.code(found.review.code)} label=${found?.label} day=${day} state=${state}>
    <div class="pp-body">
      <form class="pp-left rv-ask" onSubmit=${propose}>
        <p>${told.how}</p>
        <label class="rv-answers">${words.fields.answers}<textarea name="answers" spellcheck="false" autocomplete="off" placeholder=${told.example} value=${typed.answers} onInput=${(e) => write({ answers: e.target.value })}></textarea></label>
        <label class="pp-field">${words.fields.code}<input name="code" autocomplete="off" spellcheck="false" value=${typed.code} onInput=${(e) => write({ code: e.target.value })} /></label>
        <p>${told.set(Number(chosen.seats) || 1, chosen.seed)} <a href="#sheets">${told.change}</a></p>
        <p><button>${told.go}</button></p>
      </form>
      <div class="pp-right rv-right"><${FaultWords} fault=${fault} />
        ${slips ? html`<${Slips} slips=${slips} back=${() => hand(null)} />`
        : found ? html`<${Proposed} found=${found} approved=${approved} approve=${approve} back=${back} />`
        : !fault && html`<p>${told.none}</p>`}</div>
    </div>
  </${PaperScreen}>`;
}
