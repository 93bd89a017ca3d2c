/** A show of hands as it is typed: numbers that were called out, or how many hands for each word. */

/** @param {string} text @returns {{values: number[]}|null} */
export function numbersOf(text) {
  const parts = text.trim().split(/[\s;]+/).filter(Boolean).map((part) => (/^\d+(?:[.,]\d+)?,?$/.test(part) ? Number(part.replace(/,$/, "").replace(",", ".")) : NaN));
  return parts.length && parts.every(Number.isFinite) ? { values: parts } : null;
}

/** @param {Record<string, string>} typed @param {string[]} options @returns {Record<string, number>|null} */
export function countsOf(typed, options) {
  const given = options.filter((o) => (typed[o] ?? "").trim() !== "");
  if (!given.length || given.some((o) => !/^\d{1,3}$/.test(typed[o].trim()))) return null;
  return Object.fromEntries(given.map((o) => [o, Number(typed[o])]));
}
