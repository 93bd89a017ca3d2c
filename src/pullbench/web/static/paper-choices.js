/** What a teacher chose for sheets and items: kept in this browser, so that a review finds the same set.  No answers. */
import { loadKept } from "./freebody-load.js";
import { useState } from "./html.js";
import { choice, choose } from "./kept.js";

const LOAD = ["load_kg", "u_load_kg", "string_deg", "tilt_deg"];
const LESSON = ["day", "surfaces", "pulls", "sole", "floor", "seed", "comma"];

/** @typedef {Record<string, any>} Choices */

/** @type {Choices} */
export const USUAL = {
  day: "today", surfaces: "wood on wood", pulls: "", sole: "", floor: "", seed: "1", comma: false,
  levels: [2], kinds: [], seats: "24", paper: "a4", large_print: false, plain_type: false,
  item_levels: [], item_kinds: [], variants: "5", pictures: "svg",
};

/** @returns {Choices} */
function read() {
  try {
    return { ...USUAL, ...JSON.parse(choice("paper", "{}")) };
  } catch {
    return USUAL;
  }
}

/** @returns {[Choices, (change: Choices) => void]} the choices with the load, and how to change them */
export function useChoices() {
  const [chosen, put] = useState({ ...read(), ...loadOf(loadKept()) });
  const change = (/** @type {Choices} */ part) => put((/** @type {Choices} */ was) => {
    const next = { ...was, ...part };
    choose("paper", JSON.stringify(Object.fromEntries(Object.keys(USUAL).map((name) => [name, next[name]]))));
    if (LOAD.some((name) => name in part)) choose("forces-load", JSON.stringify({ ...loadKept(), ...loadOf(next) }));
    return next;
  });
  return [chosen, change];
}

const loadOf = (from) => Object.fromEntries(LOAD.map((name) => [name, from[name] ?? ""]));
const some = (from, names) => Object.fromEntries(names.map((name) => [name, from[name]]));

/** @param {Choices} chosen what the bench is asked for a set */
export const setOf = (chosen) => some(chosen, [...LESSON, ...LOAD, "levels", "kinds", "seats", "paper", "large_print", "plain_type"]);

/** @param {Choices} chosen what the bench is asked for a package */
export const itemsOf = (chosen) => ({
  ...some(chosen, [...LESSON, ...LOAD, "variants", "pictures"]), levels: chosen.item_levels, kinds: chosen.item_kinds,
});
