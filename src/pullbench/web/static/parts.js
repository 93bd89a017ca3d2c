/** Small parts that every screen is made of: numbers in boxes, stamps, textures, the word for where numbers come from. */
import { html, useEffect, useState } from "./html.js";
import { forceWords, glued } from "./told.js";
import { words } from "./words.js";

/** @param {import("./state.js").Store} store @returns {import("./state.js").State} rendered again when it changes */
export function useStore(store) {
  const [state, setState] = useState(store.get());
  useEffect(() => {
    setState(store.get());
    return store.subscribe(() => setState(store.get()));
  }, [store]);
  return state;
}

/** Each digit in its own equal box, so that a changing number never shifts. @param {{text: string}} props */
export function Digits({ text }) {
  return html`${[...text].map((sign) => html`<span class=${/\d/.test(sign) ? "digit" : "point"}>${sign}</span>`)}`;
}

/** The force, a hand's breadth tall. @param {{force: import("./types.js").Force|null, label: import("./types.js").Label}} props */
export function Hand({ force, label }) {
  return html`<div class="hand-row">
    <p class="unseen">${words.watch.force(forceWords(force, label))}</p>
    ${force && html`<p class="hand" aria-hidden="true">
      <span class="hand-number"><${Digits} text=${force.text} /></span>
      <span class="hand-unit">${force.unit}</span>
      <span class="hand-sure">
        <${Label} label=${label} />
        <span>${force.plus_minus ? `${words.plusMinus} ${force.plus_minus}` : words.reading.cannotTell}</span>
      </span>
    </p>`}
    ${!force && html`<p class="hand none" aria-hidden="true">${words.watch.noForce}</p>`}
  </div>`;
}

/** The state in words, as large as fits beside the force; its texture underlines it. @param {{word: string, texture?: string}} props */
export function StateWord({ word, texture }) {
  return html`<div class="state-place" style=${{ "--letters": word.length }}><p class="state-word"><span>${word}</span>${texture && html`<${Texture} name=${texture} class="state-texture" />`}</p></div>`;
}

/** Stands beside numbers that were not measured. @param {{label: import("./types.js").Label}} props */
export function Label({ label }) {
  return label ? html`<strong class="label">${words.labels[label] ?? label}</strong>` : null;
}

/** A texture of the strip, as a strip of its own. @param {{name: string, class?: string}} props */
export function Texture({ name, class: kind = "texture" }) {
  return html`<svg class=${kind} aria-hidden="true"><rect width="100%" height="100%" fill=${`url(#${name})`} /></svg>`;
}

const STAMPS = /** @type {Record<string, string>} */ ({ usable: "usable", "usable with a note": "note", "pull again": "again" });

/** A verdict is a stamp, told by border and fill, never by colour. @param {{verdict: string, aside?: boolean}} props */
export function Stamp({ verdict, aside = false }) {
  const kind = aside ? "aside" : STAMPS[verdict] ?? "usable";
  return html`<span class=${`stamped ${kind}`}>
    ${(kind === "again" || kind === "aside") && html`<${Texture} name="aside" class="stamp-fill" />`}
    <span class="stamp-word">${aside ? words.watch.aside : words.verdicts[verdict] ?? verdict}</span>
  </span>`;
}

/** One sentence and one fix, large; longer ones a size smaller, so that all of it can be read. */
export function Said({ sentence, fix }) {
  const size = Math.max(sentence.length, fix?.length ?? 0);
  return html`<div class=${`said-pair ${size > 104 ? "longest" : size > 54 ? "long" : ""}`}>
    <p class="said-first">${glued(sentence)}</p>
    ${fix && html`<p class="said-fix">${glued(fix)}</p>`}
  </div>`;
}

/** What is wrong, what is allowed, what to do. @param {{fault: import("./types.js").Fault|null}} props */
export function FaultWords({ fault }) {
  return fault && html`<p class="fault" role="alert"><strong>${fault.what}</strong> ${fault.allowed} ${fault.next_step}</p>`;
}

/** The textures as patterns: one set for the page; never display:none, or they vanish. */
export function Textures() {
  return html`<svg class="textures" width="0" height="0" aria-hidden="true"><defs>
    <pattern id="loading" width="14" height="14" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="tx" d="M7,0V14" /></pattern>
    <pattern id="settling" width="12" height="12" patternUnits="userSpaceOnUse"><circle class="tx-dot" cx="3" cy="3" r="2.2" /><circle class="tx-dot" cx="9" cy="9" r="2.2" /></pattern>
    <pattern id="sliding" width="36" height="16" patternUnits="userSpaceOnUse"><path class="tx" d="M0,4H24M18,12H36M0,12H6" /></pattern>
    <pattern id="stick-slip" width="20" height="18" patternUnits="userSpaceOnUse"><path class="tx" d="M0,14 L14,4 L14,14 L20,9.7" /></pattern>
    <pattern id="aside" width="12" height="12" patternUnits="userSpaceOnUse"><path class="tx-aside" d="M0,0L12,12M12,0L0,12" /></pattern>
    <pattern id="static-band" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="tx-static" d="M4.5,0V9" /></pattern>
    <pattern id="kinetic-band" width="22" height="10" patternUnits="userSpaceOnUse"><path class="tx-kinetic" d="M0,2.5H14M11,7.5H22M0,7.5H3" /></pattern>
  </defs></svg>`;
}
