/** Prediction slip on a phone: a ruler with two flags, or a few large words. No name on it. */
import { html, useEffect, useState } from "./html.js";
import { FaultWords } from "./parts.js";
import { firstGuess, own, rulerScale, set, slipFor } from "./own-slip.js";
import { SlipRuler } from "./slip-ruler.js";
import { heightOf } from "./day.js";
import { outcomeWords } from "./revealed.js";
import { glued } from "./told.js";
import { useOrder } from "./use-answer.js";
import { words } from "./words.js";

/** @param {{state: import("./state.js").State}} props */
export function Slip({ state }) {
  const { prediction } = state;
  const { order, fault } = useOrder();
  return html`<main class="follow slip-page">
    <header class="follow-head"><h1 tabindex="-1">${words.slip.title}</h1><p>${words.slip.noName}</p></header>
    <${FaultWords} fault=${fault} />
    ${!prediction && html`<p class="slip-question">${words.slip.waiting}</p><p>${words.slip.waitingFix}</p>`}
    ${prediction && html`<p class="slip-question">${glued(prediction.question)}</p>`}
    ${prediction?.state === "open" && html`<${Fill} key=${prediction.question} told=${prediction} state=${state} order=${order} />`}
    ${prediction && prediction.state !== "open" && html`<${After} told=${prediction} />`}
    <p class="slip-foot"><a class="plain" href="#follow">${words.slip.follow}</a></p>
  </main>`;
}

function Fill({ told, state, order }) {
  const mine = slipFor(told.question, true);
  const [, again] = useState(0);
  const keep = (more) => { Object.assign(own, more); again((n) => n + 1); };
  const hand = async (more) => { if (await order("prediction/slip", { token: mine.token, ...more })) keep({ handed: true }); };
  if (told.kind === "which") {
    return html`<p class="slip-how">${words.slip.howWhich}</p>
      <div class="slip-options" role="group" aria-label=${told.question}>${told.options.map((option) => html`<button aria-pressed=${mine.option === option ? "true" : "false"}
        onClick=${() => { keep({ option, handed: false }); hand({ option }); }}>${option}</button>`)}</div>
      <p class="slip-state" role="status" aria-live="polite">${mine.handed ? words.slip.handed : ""}</p>`;
  }
  return html`<${FillNumber} mine=${mine} keep=${keep} hand=${hand} pulls=${state.pulls} quantity=${told.quantity} />`;
}

function FillNumber({ mine, keep, hand, pulls, quantity }) {
  const [scale] = useState(() => (own.scale ??= rulerScale(pulls.map(heightOf)))); // a ruler does not change under the hand
  const guess = mine.guess ?? firstGuess(scale);
  useEffect(() => { if (!mine.guess) keep({ guess }); }, []);
  const move = (moved) => keep({ guess: set(scale, guess, moved), handed: false });
  return html`<p class="slip-how">${words.slip.how}</p>
    <${SlipRuler} scale=${scale} guess=${guess} move=${move} series=${quantity === "static_N" ? "static" : "kinetic"} />
    <button class="onward" disabled=${mine.handed} onClick=${() => hand(guess)}>${mine.handed ? words.slip.handedShort : words.slip.hand}</button>
    <p class="slip-state" role="status" aria-live="polite">${mine.handed ? words.slip.handed : words.slip.kept}</p>`;
}

/** What was said, and, once revealed, what it was. */
function After({ told }) {
  const mine = own.question === told.question && (own.handed || told.state === "revealed") ? own : null;
  const scale = mine?.guess ? rulerScale([]) : null;
  const { outcome } = told;
  const full = mine?.guess && told.kind === "number" && own.scale;
  const said = !mine?.handed ? "" : mine.option ?? (mine.guess ? `${trim(mine.guess.value_N)} N ± ${trim(mine.guess.plus_minus_N)}` : "");
  return html`<div role="status" aria-live="polite" class="slip-after">
    <p class="slip-question"><strong>${told.state === "revealed" ? glued(told.sentence ?? "") : said ? words.slip.committed : words.slip.notHanded}</strong></p>
    ${said && html`<p class="slip-question">${glued(words.slip.yours(said))}</p>`}
    ${told.state === "revealed" && outcome && html`<p class="slip-question">${glued(outcomeWords(outcome))}</p>`}
    ${told.count > 0 && html`<p>${words.prediction.committed(told.count)}</p>`}</div>
    ${full && said && html`<${SlipRuler} scale=${full} guess=${mine?.guess} series=${told.quantity === "static_N" ? "static" : "kinetic"}
      outcome=${outcome?.value_N != null ? { value: Math.min(Math.abs(outcome.value_N), full.full_N), text: outcome.told } : null} />`}`;
}

const trim = (/** @type {number} */ n) => String(Number(n.toPrecision(6)));
