/** What can be commanded, and how: by key, by a presenter's clicker, or by words typed after "/". */
import { words } from "./words.js";

/**
 * @typedef {object} Command
 * @property {string} id @property {string[]} keys as KeyboardEvent.key says them @property {"all"|"strip"|"sheet"|"prediction"} where
 * @property {boolean} [teacher] changes the day @property {boolean} [argument] means nothing without more words
 */

/** @type {Command[]} letters are capitals here and match either case; `?` and `/` are typed as they are */
export const COMMANDS = [
  { id: "hold", keys: ["H"], where: "all" },
  { id: "next", keys: ["PageDown"], where: "all" },
  { id: "previous", keys: ["PageUp"], where: "all" },
  { id: "compare", keys: [], where: "all", argument: true },
  { id: "bench", keys: ["Escape", "B"], where: "all" },
  { id: "check", keys: ["K"], where: "all" },
  { id: "rehearsal", keys: ["R"], where: "all" },
  { id: "logbook", keys: ["L"], where: "all" },
  { id: "search", keys: [], where: "all", argument: true },
  { id: "join", keys: ["J"], where: "all" },
  { id: "ladder", keys: ["D"], where: "all" },
  { id: "surfaces", keys: ["E"], where: "all" },
  { id: "tilt", keys: ["I"], where: "all" },
  { id: "forces", keys: ["G"], where: "all" },
  { id: "required", keys: ["Q"], where: "all" },
  { id: "sheets", keys: [], where: "all", teacher: true },
  { id: "items", keys: [], where: "all", teacher: true },
  { id: "review", keys: [], where: "all", teacher: true },
  { id: "predict", keys: ["P"], where: "all" },
  { id: "nextLoad", keys: ["N"], where: "all", teacher: true },
  { id: "load", keys: [], where: "all", teacher: true, argument: true },
  { id: "sled", keys: [], where: "all", teacher: true, argument: true },
  { id: "step", keys: [], where: "all", teacher: true, argument: true },
  { id: "surface", keys: [], where: "all", teacher: true, argument: true },
  { id: "go", keys: [], where: "all", teacher: true },
  { id: "down", keys: [], where: "all", teacher: true },
  { id: "null", keys: [], where: "all", teacher: true },
  { id: "masses", keys: [], where: "all", teacher: true },
  { id: "room", keys: ["T", "."], where: "all" },
  { id: "full", keys: ["F", "F5"], where: "all" },
  { id: "tone", keys: ["S"], where: "all" },
  { id: "click", keys: ["C"], where: "all" },
  { id: "voice", keys: ["V"], where: "all" },
  { id: "type", keys: ["/"], where: "all" },
  { id: "help", keys: ["?"], where: "all" },
  { id: "closer", keys: ["+", "="], where: "strip" },
  { id: "wider", keys: ["-"], where: "strip" },
  { id: "earlier", keys: ["ArrowLeft"], where: "strip" },
  { id: "later", keys: ["ArrowRight"], where: "strip" },
  { id: "pen", keys: ["End", "0"], where: "strip" },
  { id: "why", keys: ["W"], where: "sheet" },
  { id: "aside", keys: ["A"], where: "sheet", teacher: true },
  { id: "back", keys: [], where: "sheet", teacher: true },
  { id: "breakaway", keys: ["M"], where: "sheet", teacher: true },
  { id: "sliding", keys: [], where: "sheet", teacher: true },
  { id: "unmark", keys: ["U"], where: "sheet", teacher: true },
  { id: "onward", keys: ["PageDown"], where: "prediction", teacher: true },
  { id: "commit", keys: [], where: "prediction", teacher: true },
  { id: "reveal", keys: [], where: "prediction", teacher: true },
  { id: "clear", keys: [], where: "prediction", teacher: true },
];

const placeOf = (screen) => /** @type {Record<string, string>} */ ({ bench: "strip", follow: "strip", pull: "sheet", prediction: "prediction" })[screen];

/** @typedef {{id: string, rest: string}} Said */

/**
 * @param {{key: string, ctrlKey?: boolean, metaKey?: boolean, altKey?: boolean}} event
 * @param {string} screen @param {boolean} letters whether single characters are commands
 * @returns {Said|null}
 */
export function commandForKey(event, screen, letters = true) {
  if (event.ctrlKey || event.metaKey || event.altKey) return null;
  const key = event.key.length === 1 ? event.key.toUpperCase() : event.key;
  if (event.key.length === 1 && !letters) return null;
  if (/^[1-9]$/.test(key)) return { id: "hold", rest: key };
  const meant = COMMANDS.filter((c) => c.keys.includes(key) && (c.where === "all" || c.where === placeOf(screen)));
  const found = meant.find((c) => c.where !== "all") ?? meant[0]; // a screen's own meaning comes first
  return found ? { id: found.id, rest: "" } : null;
}

const plain = (text) => text.toLowerCase().replace(/^\//, "").replace(/\s+/g, " ").trim();

/** @param {string} text what was typed @returns {Said|null} the command, and what was said after it */
export function commandForWords(text) {
  const said = plain(text);
  let best = /** @type {{id: string, length: number}|null} */ (null);
  for (const { id } of COMMANDS) {
    for (const wording of words.commands[id].words) {
      const fits = said === wording || said.startsWith(`${wording} `);
      if (fits && (!best || wording.length > best.length)) best = { id, length: wording.length };
    }
  }
  return best ? { id: best.id, rest: said.slice(best.length).trim() } : null;
}

/** @param {string} text @param {string} screen @returns {string[]} wordings that begin so, for the eye */
export function suggestions(text, screen) {
  const said = plain(text);
  const here = COMMANDS.filter((c) => c.where === "all" || c.where === placeOf(screen));
  return here.map((c) => words.commands[c.id].words[0]).filter((w) => w.startsWith(said));
}

/** @param {string} text such as "7 and 9" or "7+9" @returns {number[]} */
export const numbersIn = (text) => (text.match(/\d+/g) ?? []).map(Number).filter((n) => n > 0);
