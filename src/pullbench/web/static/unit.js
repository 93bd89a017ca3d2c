/** The picture unit: a projector page is laid out on 1280 by 720 and scaled whole; narrow or low pages flow instead. */

/** The same rule as in layout.css. @param {number} width @param {number} height of the window @param {number} rem @returns {{u: number, wide: boolean}} */
export function pictureUnit(width, height, rem = 16) {
  const wide = width >= 900 && height >= 480;
  if (wide) return { u: Math.min(width / 1280, height / 720), wide };
  return { u: Math.max(rem / 32, Math.min(width / 640, 1)), wide };
}

/** @returns {{u: number, wide: boolean}} */
export const unitNow = () => pictureUnit(innerWidth, innerHeight, parseFloat(getComputedStyle(document.documentElement).fontSize));
