/** A canvas that knows its size: pixels of the screen, measured in css pixels and picture units. */
import { unitNow } from "./unit.js";

/**
 * @param {HTMLCanvasElement} canvas
 * @returns {{c: CanvasRenderingContext2D, width: number, height: number, u: number, wide: boolean} | null} null while it has no size
 */
export function prepared(canvas) {
  const { clientWidth: width, clientHeight: height } = canvas;
  if (!width || !height) return null;
  const detail = Math.min(devicePixelRatio || 1, 3);
  const [w, h] = [Math.round(width * detail), Math.round(height * detail)];
  if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h];
  const c = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d", { alpha: false }));
  c.setTransform(detail, 0, 0, detail, 0, 0);
  return { c, width, height, ...unitNow() };
}
