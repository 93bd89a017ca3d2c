/** What is written on the line of one pull: static maximum at its point, kinetic along its level, words under phases. */
import { level, plumb, point, say, SIZE, widthOf, yOf } from "./ink.js";
import { kineticWords, staticWords } from "./told.js";
import { words } from "./words.js";

/**
 * @typedef {object} Place where a pull lies on its sheet
 * @property {(time_s: number) => number} x
 * @property {number} limit labels end before this pixel
 * @property {number} phaseFoot y of the phase words' feet
 * @property {import("./ink.js").Points} points what is drawn: where no breakaway was found, its highest point is marked as open
 */

/** @param {import("./ink.js").Sheet} sheet @param {import("./types.js").Card} card @param {Place} place
 *  @returns {number} where the numbers end that took the phase words' place, 0 when they did not */
export function markPull(sheet, card, place) {
  const taken = drawStatic(sheet, card, place);
  return drawKinetic(sheet, card, place, taken);
}

/** @returns {{right: number, y: number}|null} where the static label lies */
function drawStatic(sheet, card, { x, limit, points }) {
  const { u, base } = sheet;
  const { breakaway } = card;
  const told = breakaway.kind === "value" && breakaway.at_s !== null;
  const top = told ? null : highest(points, x(card.start_s), x(card.end_s));
  if (!told && !top) return null;
  const at = top?.x ?? x(breakaway.at_s);
  const y = Math.max(10 * u, top?.y ?? yOf(sheet, Math.abs(breakaway.value ?? 0)));
  plumb(sheet, at, y + 8 * u, base, "static");
  point(sheet, at, y, told);
  const whole = breakaway.reason && !told ? `${staticWords(card)}, ${breakaway.reason}` : staticWords(card);
  const text = at + 22 * u + widthOf(sheet, whole) > limit ? staticWords(card) : whole;
  const width = widthOf(sheet, text);
  if (at + 22 * u + width > limit) return null;
  const feet = Math.max(36 * u, y - 7 * u);
  say(sheet, text, at + 22 * u, feet, { colour: "static" });
  return { right: at + 22 * u + width, y: feet };
}

function drawKinetic(sheet, card, { x, limit, phaseFoot }, taken) {
  const { kinetic } = card;
  if (kinetic.from_s === null || kinetic.to_s === null || kinetic.value === null) return 0;
  const { u } = sheet;
  const [left, right] = [x(kinetic.from_s), x(kinetic.to_s)];
  const y = yOf(sheet, Math.abs(kinetic.value));
  level(sheet, left, right, y);
  const text = kineticWords(card);
  const below = y + 78 * u;
  const above = y - 24 * u;
  const clear = !taken || above - taken.y > 40 * u || left > taken.right;
  const fits = below < phaseFoot - 38 * u;
  const over = clear && above > 36 * u;
  const feet = fits ? below : over ? above : phaseFoot;
  const ends = left + 2 * u + widthOf(sheet, text);
  if (ends < limit) say(sheet, text, left + 2 * u, feet, { colour: "kinetic" });
  return fits || over ? 0 : ends;
}

/** @param {import("./ink.js").Points} points @param {number} left @param {number} right @returns {{x: number, y: number}|null} */
function highest({ xy, count }, left, right) {
  let top = /** @type {{x: number, y: number}|null} */ (null);
  for (let i = 0; i < count; i += 1) {
    const [x, y] = [xy[2 * i], xy[2 * i + 1]];
    if (x >= left && x <= right && !Number.isNaN(y) && (!top || y < top.y)) top = { x, y };
  }
  return top;
}

/**
 * A phase is named under its stretch; where the word does not fit, it is left out.
 * @param {import("./ink.js").Sheet} sheet @param {string} name @param {number} left @param {number} right @param {number} feet
 */
export function namePhase(sheet, name, left, right, feet) {
  const text = words.states[name] ?? name;
  for (const size of [SIZE.onLine, SIZE.word]) {
    if (widthOf(sheet, text, size) + 10 * sheet.u < right - left) {
      say(sheet, text, (left + right) / 2, feet, { size, anchor: "center" });
      return;
    }
  }
}
