/** "17.5 slid", "16 held", "20 slide 0.52": a tilt as it is typed. */

/** @typedef {{kind: "slid"|"held"|"slide", angle_deg: number, acceleration_m_s2?: number}} TypedTilt */

const NUMBER = /\d+(?:[.,]\d+)?/g;

/** @param {string} text @returns {number|null} degrees */
export function angleIn(text) {
  const [typed, ...more] = text.replace(/°|degrees?|deg\b/gi, " ").trim().split(/\s+/);
  if (more.length || !/^\d+(?:[.,]\d+)?$/.test(typed ?? "")) return null;
  return Number(typed.replace(",", "."));
}

/** @param {string} text what stands after "tilt" @returns {TypedTilt|null} */
export function tiltIn(text) {
  const kind = /\b(slid|held|slide)\b/i.exec(text)?.[1].toLowerCase();
  const numbers = (text.match(NUMBER) ?? []).map((n) => Number(n.replace(",", ".")));
  if (kind === "slide") return numbers.length === 2 ? { kind, angle_deg: numbers[0], acceleration_m_s2: numbers[1] } : null;
  if (!kind || numbers.length !== 1) return null;
  return { kind: /** @type {"slid"|"held"} */ (kind), angle_deg: numbers[0] };
}
