/** Numbers that were rounded at the bench and travel as whole steps of their last digit. */

/** @typedef {{steps: (number|null)[]|null, decimals: number, plus_minus: string|null}} Column */

/** @param {Column} column @param {number} i @returns {number|null} the number itself */
export function valueAt(column, i) {
  const step = column.steps?.[i];
  return step === null || step === undefined ? null : step * 10 ** -column.decimals;
}

/** @param {Column} column @param {number} i @param {boolean} [size] without its sign @returns {string|null} its digits, as rounded at the bench */
export function textAt(column, i, size = false) {
  const value = valueAt(column, i);
  if (value === null) return null;
  return (size ? Math.abs(value) : value + 0).toFixed(column.decimals).replace(/^-(?=0(\.0*)?$)/, "").replace("-", "\u2212");
}

/** @param {Column} column @param {number} i @param {string} unit @param {boolean} [size] @returns {string|null} "2.41 N ± 0.02" */
export function amountAt(column, i, unit, size = false) {
  const text = textAt(column, i, size);
  if (text === null) return null;
  return `${text} ${unit}${column.plus_minus ? ` ± ${column.plus_minus}` : ""}`;
}

/** @param {Column} column @returns {number} the largest size in it, 0 when it can nowhere be told */
export const largest = (column) => (column.steps ?? []).reduce((/** @type {number} */ most, step) => Math.max(most, Math.abs(step ?? 0)), 0) * 10 ** -column.decimals;

/** @param {Column} column @param {number} i @returns {boolean} whether it is told from nought: larger than its plus or minus */
export function fromNought(column, i) {
  const value = valueAt(column, i);
  return value !== null && Math.abs(value) > Number(column.plus_minus ?? 0);
}
