/** Rehearsal: a real hand, by mouse, finger or keys, on the virtual bench; the same verdict, and the truth afterwards. */
import { html, useEffect, useRef, useState } from "./html.js";
import { Hand, Label, Said, Stamp, StateWord } from "./parts.js";
import { RehearsalLine } from "./rehearsal-line.js";
import { SheetHead } from "./ribbon.js";
import { Strip } from "./strip.js";
import { glued, kineticWords, staticWords } from "./told.js";
import { words } from "./words.js";

const VIEW = { span_s: 7, end_s: null };
const SLED = 330; // units from the left: the sled's front before any pull
const STRING = 170; // units of string between sled and handle
const PER_M = 3000; // units for a metre: three for a millimetre, so that a hand can load slowly
const LABEL = /** @type {const} */ ("simulated");

/** @param {{day: import("./day.js").Day, state: import("./state.js").State}} props */
export function Rehearsal({ day, state }) {
  const line = useRef(/** @type {RehearsalLine|null} */ (null));
  const [seen, show] = useState(/** @type {import("./rehearsal-line.js").Seen|null} */ (null));
  useEffect(() => {
    const own = new RehearsalLine(day.sound, show);
    line.current = own;
    show(own.seen);
    let [frame, before_s] = [0, performance.now() / 1000];
    const tick = () => {
      frame = requestAnimationFrame(tick);
      const now_s = performance.now() / 1000;
      if (now_s - before_s < 0.02) return; // at most 50 places a second go to the bench
      own.move(now_s, now_s - before_s);
      before_s = now_s;
    };
    tick();
    return () => { cancelAnimationFrame(frame); own.close(); };
  }, []);
  const own = line.current;
  if (!own || !seen) return html`<main class="sheet rehearsal"><${SheetHead} title=${words.titles.rehearsal} day=${day} state=${state} /></main>`;
  return html`<main class="sheet rehearsal">
    <${SheetHead} title=${words.titles.rehearsal} day=${day} state=${state} mute><${Label} label=${LABEL} /></${SheetHead}>
    <section class="now"><${StateWord} word=${stateWord(seen)} /><${Hand} force=${seen.force} label=${LABEL} /></section>
    <div class="strip-place"><${Strip} day=${own.day} view=${VIEW} describe=${`${words.watch.strip}, ${LABEL}`} /></div>
    <${Scene} line=${own} seen=${seen} />
    <section class="verdict" role="status" aria-live="polite"><${Outcome} seen=${seen} again=${() => own.again()} /></section>
  </main>`;
}

const stateWord = (/** @type {import("./rehearsal-line.js").Seen} */ seen) =>
  (seen.sliding ? words.rehearsal.sliding : seen.slack ? words.rehearsal.slack : words.rehearsal.held);

function Outcome({ seen, again }) {
  const { rehearsal } = words;
  const button = html`<button class="again-button" onClick=${again}>${rehearsal.again}</button>`;
  if (seen.stage === "closed") return html`<${Said} sentence=${seen.sorry ?? rehearsal.closed} fix=${null} />`;
  if (seen.stage === "opening") return html`<${Said} sentence=${rehearsal.opening} fix=${null} />`;
  if (seen.stage === "reading") return html`<${Said} sentence=${rehearsal.reading} fix=${null} />`;
  if (seen.sorry) return html`<div class="verdict-mark">${button}</div><${Said} sentence=${seen.sorry} fix=${rehearsal.how} />`;
  if (!seen.card) return html`<${Said} sentence=${rehearsal.how} fix=${null} />`;
  const { card, truth } = seen;
  const told = (t) => (t ? `${t.text} ${t.unit}` : words.reading.cannotTell);
  return html`<div class="verdict-mark"><${Stamp} verdict=${card.verdict} />${button}</div>
    <div class="said-pair long"><p class="said-first">${rehearsal.read}: <span class="t-static">${glued(staticWords(card))}</span>, <span class="t-kinetic">${glued(kineticWords(card))}</span>.</p>
      <p class="said-first"><b>${rehearsal.truth}</b>: ${glued(truth?.sentence ?? rehearsal.truthWords(told(truth?.static), told(truth?.kinetic)))} <${Label} label=${LABEL} /></p>
      <p class="said-fix">${card.fix ?? card.findings[0]?.sentence ?? words.sheet.nothingToChange}</p></div>`;
}

/** Sled, string and handle. The handle is what a hand can hold. */
function Scene({ line, seen }) {
  const place = useRef(/** @type {HTMLElement|null} */ (null));
  const { steering } = line;
  const handle = SLED + STRING + steering.hand_m * PER_M;
  const front = SLED + seen.sled_m * PER_M;
  const sag = seen.slack ? 26 : 0;
  const now_s = () => performance.now() / 1000;
  const grab = (event) => {
    const box = place.current?.getBoundingClientRect();
    const grip = /** @type {HTMLElement} */ (event.currentTarget);
    if (!box) return;
    grip.setPointerCapture(event.pointerId);
    grip.focus();
    const unit = box.width / 1280;
    const from = event.clientX - steering.hand_m * PER_M * unit;
    const follow = (e) => steering.point((e.clientX - from) / (PER_M * unit));
    const release = () => { grip.removeEventListener("pointermove", follow); grip.removeEventListener("lostpointercapture", release); line.letGo(now_s()); };
    grip.addEventListener("pointermove", follow);
    grip.addEventListener("lostpointercapture", release);
  };
  const keys = (event) => {
    const way = /** @type {-1|1|undefined} */ ({ ArrowLeft: -1, ArrowRight: 1 }[event.key]);
    if (way) steering.press(way, event.shiftKey);
    else if (event.key === " " || event.key === "Enter") line.letGo(now_s());
    else return;
    event.preventDefault();
  };
  const up = (event) => event.key.startsWith("Arrow") && steering.press(0, false);
  return html`<div class="scene" ref=${place}>
    <svg viewBox="0 0 1280 120" aria-hidden="true">
      <path class="rule floor" d="M0,96H1280" /><rect x="0" y="98" width="1280" height="14" fill="url(#loading)" />
      <path class="ink thin" d=${`M${front},72Q${(front + handle) / 2},${72 + 2 * sag} ${handle},72`} />
      <path class="sled" d=${`M${front - 190},52H${front}V92H${front - 190}Z`} /><path class="sled" d=${`M${front - 150},14h80v38h-80z`} />
    </svg>
    <button class="handle" role="slider" style=${{ left: `${(100 * handle) / 1280}%` }} aria-label=${words.rehearsal.handle}
      aria-valuemin="0" aria-valuemax=${Math.round(1000 * steering.track_m)} aria-valuenow=${Math.round(1000 * steering.hand_m)} aria-valuetext=${words.rehearsal.hand((1000 * steering.hand_m).toFixed(0))}
      onPointerDown=${grab} onKeyDown=${keys} onKeyUp=${up}></button>
  </div>`;
}
