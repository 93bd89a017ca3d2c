/** The setting in force, in words, and typed masses. A load is what somebody typed: no result, so the page may write it. */
import { words } from "./words.js";

/**
 * @typedef {object} Setting
 * @property {number|null} load_kg @property {number|null} sled_kg @property {string} surface
 * @property {number|null} [u_load_kg] @property {number|null} [step_kg] @property {number} [pulls_per_step]
 */

/** @param {number} kg @returns {string} "1.0 kg", "0.35 kg": as typed, to a gram */
export function kgText(kg) {
  const text = kg.toFixed(3).replace(/0+$/, "");
  return `${text.endsWith(".") ? `${text}0` : text} kg`;
}

/** @param {Setting|null|undefined} setting @returns {string} "1.0 kg on felt", or what of it is known, or nothing */
export function settingWords(setting) {
  if (!setting) return "";
  const load = setting.load_kg === null || setting.load_kg === undefined ? "" : kgText(setting.load_kg);
  if (!setting.surface) return load;
  return load ? words.setting.on(load, setting.surface) : words.setting.onOnly(setting.surface);
}

const PER_KG = /** @type {Record<string, number>} */ ({ kg: 1, g: 1e-3, "": 1 });

/** @param {string} text such as "1.5", "1,5 kg" or "350 g" @returns {number|null} kilograms, 0 allowed */
export function massIn(text) {
  const found = /^(\d+(?:[.,]\d*)?|[.,]\d+)\s*(kg|g|)$/i.exec(text.trim());
  if (!found) return null;
  return Number((Number(found[1].replace(",", ".")) * PER_KG[found[2].toLowerCase()]).toFixed(6));
}

/**
 * What was typed into the fields, as the bench takes it: only what changed.
 * @param {Record<string, string>} typed load, sled, step: masses; pulls: a count; surface: words
 * @param {Setting|null} now @returns {{body: Record<string, unknown>, wrong: string|null}} wrong: the text that is no mass or no count
 */
export function changesOf(typed, now) {
  const body = /** @type {Record<string, unknown>} */ ({});
  for (const name of ["load", "sled", "step"]) {
    const text = (typed[name] ?? "").trim();
    if (!text) continue;
    const kg = massIn(text);
    if (kg === null) return { body: {}, wrong: text };
    if (kg !== /** @type {any} */ (now)?.[`${name}_kg`]) body[`${name}_kg`] = kg;
  }
  const count = (typed.pulls ?? "").trim();
  if (count && !/^[1-9]\d?$/.test(count)) return { body: {}, wrong: count };
  if (count && Number(count) !== now?.pulls_per_step) body.pulls_per_step = Number(count);
  const surface = (typed.surface ?? "").trim();
  if (surface && surface !== now?.surface) body.surface = surface;
  return { body, wrong: null };
}
