/** Results in words for the strip and for sentences. The digits are the bench's; only the wording is put together here. */
import { words } from "./words.js";

/** @param {import("./types.js").Told} told @returns {string} "3.12 N ± 0.03", "at least 3.1 N", "cannot tell" */
export function amount(told) {
  if (told.whole) return told.whole;
  if (told.text === null || told.kind === "cannot tell") return words.reading.cannotTell;
  const unit = told.unit ? ` ${told.unit}` : "";
  if (told.kind === "lower bound") return `${words.reading.atLeast} ${bare(told.text, words.reading.atLeast)}${unit}`;
  if (told.kind === "upper bound") return `${words.reading.atMost} ${bare(told.text, words.reading.atMost)}${unit}`;
  return told.plus_minus ? `${told.text}${unit} ${words.plusMinus} ${told.plus_minus}` : `${told.text}${unit}`;
}

/** A bench may send the bound with its wording or without. */
const bare = (/** @type {string} */ text, /** @type {string} */ wording) => (text.startsWith(wording) ? text.slice(wording.length).trim() : text);

/** @param {import("./types.js").Card} card @returns {string} "static maximum 3.12 N ± 0.03", "static: cannot tell" */
export function staticWords(card) {
  const told = card.breakaway;
  return told.kind === "value" ? `${words.reading.static} ${amount(told)}` : `${words.reading.staticShort}: ${amount(told)}`;
}

/** @param {import("./types.js").Card} card @returns {string} */
export function kineticWords(card) {
  const told = card.kinetic;
  return told.kind === "value" ? `${words.reading.kinetic} ${amount(told)}` : `${words.reading.kinetic}: ${amount(told)}`;
}

/** @param {import("./types.js").Force|null} force @param {import("./types.js").Label} label @returns {string} for a screen reader and for the ribbon */
export function forceWords(force, label) {
  if (!force) return words.watch.noForce;
  const sure = force.plus_minus ? ` ${words.plusMinus} ${force.plus_minus}` : "";
  return `${force.text} ${force.unit}${sure}${label ? `, ${words.labels[label] ?? label}` : ""}`;
}

/** A number keeps its unit and its plus or minus on one line. @param {string} text @returns {string} */
export const glued = (text) => text.replace(/ (?=±)|(?<=±) |(?<=\d) (?=[a-zA-Z]{1,2}\b)/g, "\u00a0");

/** @param {number} seconds @returns {string} a time for the desk: no result, so the page may write it */
export const secondsText = (seconds) => seconds.toFixed(seconds < 10 ? 2 : 1);
