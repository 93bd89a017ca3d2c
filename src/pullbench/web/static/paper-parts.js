/** Fields, the frame of a printed page, and how both ask the bench: shared by the three paper screens. */
import { html, useEffect, useLayoutEffect, useRef, useState } from "./html.js";
import { words } from "./paper-words.js";
import { post, Refused, take } from "./requests.js";

const WAIT_MS = 250; // after the last letter typed
const PAGE_WIDE = 640; // pixels that a page is laid out on; a wider frame shows it larger

/** Ask the bench again whenever what is asked changes.  @param {string} path @param {any} body @param {unknown} [also] */
export function useLook(path, body, also) {
  const [found, put] = useState(/** @type {{answer: any, fault: any, busy: boolean}} */ ({ answer: null, fault: null, busy: true }));
  const asked = JSON.stringify(body);
  useEffect(() => {
    let wanted = true;
    put((was) => ({ ...was, busy: true }));
    const timer = setTimeout(() => post(path, body).then(
      (answer) => wanted && put({ answer, fault: null, busy: false }),
      (refused) => wanted && put((was) => ({ answer: was.answer, fault: refused instanceof Refused ? refused.fault : null, busy: false })),
    ), found.answer ? WAIT_MS : 0);
    return () => { wanted = false; clearTimeout(timer); };
  }, [path, asked, also]);
  return found;
}

/** What can be chosen at all: kinds, days, surfaces. */
export function useOffer() {
  const [offer, put] = useState({ kinds: /** @type {any[]} */ ([]), days: /** @type {string[]} */ ([]), surfaces: /** @type {string[]} */ ([]) });
  useEffect(() => { post("paper/choices").then(put, () => { /* the look says what is wrong */ }); }, []);
  return offer;
}

/** Buttons that take files; the key travels in a header, never in an address. @param {{path: string, files: {word: string, body: any}[]}} props */
export function Take({ path, files }) {
  const [said, say] = useState("");
  const [busy, work] = useState(false);
  const go = async (body) => {
    work(true);
    say(words.making);
    try {
      say(words.taken(await take(path, body)));
    } catch (refused) {
      say(refused instanceof Refused ? `${refused.fault.what} ${refused.fault.allowed} ${refused.fault.next_step}` : "");
    }
    work(false);
  };
  return html`<div class="pp-take"><span aria-hidden="true">${words.take}</span>${files.map((file) => html`<button disabled=${busy} aria-label=${words.takeThe(file.word)} onClick=${() => go(file.body)}>${file.word}</button>`)}</div>
    <p class="pp-taken" role="status">${said}</p>`;
}

/** A page as it is printed, in a frame that runs nothing. @param {{view: string|null, title: string, busy: boolean}} props */
export function Page({ view, title, busy }) {
  const place = useRef(/** @type {HTMLElement|null} */ (null));
  const [box, fit] = useState({ width: PAGE_WIDE, height: 600 });
  useLayoutEffect(() => {
    const element = /** @type {HTMLElement} */ (place.current);
    const measure = () => fit({ width: element.clientWidth, height: element.clientHeight });
    const watch = new ResizeObserver(measure);
    watch.observe(element);
    measure();
    return () => watch.disconnect();
  }, []);
  const wide = Math.min(PAGE_WIDE, box.width);
  const times = box.width / wide;
  const style = { width: `${wide}px`, height: `${box.height / times}px`, transform: `scale(${times})` };
  return html`<div class=${`pp-page ${busy ? "busy" : ""}`} ref=${place} aria-busy=${busy}>
    ${view ? html`<iframe key=${view} sandbox="" title=${title} src=${view} style=${style}></iframe>` : html`<p class="pp-making">${busy ? words.making : ""}</p>`}
  </div>`;
}

/** @param {{name: string, chosen: any, change: (c: any) => void, wide?: boolean, whole?: boolean, list?: string}} props */
export function Field({ name, chosen, change, wide, whole, list }) {
  return html`<label class=${wide ? "pp-field wide" : "pp-field"}>${words.fields[name]}${words.units[name] ? `, ${words.units[name]}` : ""}
    <input name=${name} value=${chosen[name]} list=${list} placeholder=${words.hints[name] ?? ""} autocomplete="off" inputmode=${whole ? "numeric" : wide ? "text" : "decimal"}
      onInput=${(e) => change({ [name]: e.target.value })} /></label>`;
}

/** @param {{name: string, chosen: any, change: (c: any) => void}} props */
export function Tick({ name, chosen, change }) {
  return html`<label class="check-label"><input type="checkbox" name=${name} checked=${chosen[name]} onChange=${(e) => change({ [name]: e.target.checked })} /> ${words.ticks[name]}</label>`;
}

/** @param {{name: string, chosen: any, change: (c: any) => void, options: [string, string][]}} props */
export function Choice({ name, chosen, change, options }) {
  return html`<label class="pp-field">${words.fields[name]}
    <select name=${name} onChange=${(e) => change({ [name]: e.target.value })}>
      ${options.map(([value, word]) => html`<option value=${value} selected=${chosen[name] === value}>${word}</option>`)}</select></label>`;
}
