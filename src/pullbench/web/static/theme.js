/** Colours and textures for the canvas, taken from the style sheet, so that there is one place for them. */

const NAMES = ["room", "paper", "ink", "soft", "static", "kinetic", "texture", "edge", "aside", "grid", "grid-strong"];

/** @typedef {Record<string, string> & {version: number}} Colours */

/** @type {Colours|null} */
let known = null;
let version = 0;

/** @returns {Colours} as computed now: system colours too, when the browser forces its own */
export function colours() {
  if (known) return known;
  const probe = document.createElement("i");
  probe.className = "probe";
  document.body.append(probe);
  /** @type {Record<string, any>} */
  const read = { version: (version += 1) };
  for (const name of NAMES) {
    probe.style.color = `var(--${name})`;
    read[name] = getComputedStyle(probe).color;
  }
  probe.remove();
  patterns.clear();
  known = /** @type {Colours} */ (read);
  return known;
}

/** The room has changed: read the colours again. */
export function forgetColours() {
  known = null;
}

/** @type {Map<string, CanvasPattern>} */
const patterns = new Map();

/** Size of each tile and what is drawn in it, in picture units: the textures of the look. */
const TILES = /** @type {Record<string, {size: [number, number], turn?: number, ink: string, width: number, draw: (c: CanvasRenderingContext2D) => void}>} */ ({
  loading: { size: [14, 14], turn: 45, ink: "texture", width: 2.5, draw: (c) => line(c, 7, 0, 7, 14) },
  settling: { size: [12, 12], ink: "texture", width: 0, draw: (c) => [[3, 3], [9, 9]].forEach(([x, y]) => dot(c, x, y, 2.2)) },
  sliding: { size: [36, 22], ink: "texture", width: 2.5, draw: (c) => { line(c, 0, 5, 24, 5); line(c, 18, 16, 36, 16); line(c, 0, 16, 6, 16); } },
  "stick-slip": { size: [20, 18], ink: "texture", width: 2.5, draw: (c) => { line(c, 0, 14, 14, 4); line(c, 14, 4, 14, 14); line(c, 14, 14, 20, 9.7); } },
  aside: { size: [12, 12], ink: "aside", width: 1.5, draw: (c) => { line(c, 0, 0, 12, 12); line(c, 12, 0, 0, 12); } },
  "static-band": { size: [9, 9], turn: 45, ink: "static", width: 2, draw: (c) => line(c, 4.5, 0, 4.5, 9) },
  "kinetic-band": { size: [22, 10], ink: "kinetic", width: 2, draw: (c) => { line(c, 0, 2.5, 14, 2.5); line(c, 11, 7.5, 22, 7.5); line(c, 0, 7.5, 3, 7.5); } },
});

/** @param {CanvasRenderingContext2D} c */
function line(c, x1, y1, x2, y2) {
  c.beginPath();
  c.moveTo(x1, y1);
  c.lineTo(x2, y2);
  c.stroke();
}

/** @param {CanvasRenderingContext2D} c */
function dot(c, x, y, radius) {
  c.beginPath();
  c.arc(x, y, radius, 0, 2 * Math.PI);
  c.fill();
}

const DETAIL = 2; // tiles are drawn larger and scaled down, so that they stay clean on any screen

/**
 * @param {CanvasRenderingContext2D} c @param {string} name of a texture
 * @param {number} unit pixels in a picture unit @param {number} shift pixels by which the paper has moved
 * @returns {CanvasPattern|null}
 */
export function texture(c, name, unit, shift = 0) {
  const tile = TILES[name];
  if (!tile) return null;
  const paint = colours();
  let pattern = patterns.get(name);
  if (!pattern) {
    const [width, height] = tile.size;
    const scratch = document.createElement("canvas");
    [scratch.width, scratch.height] = [width * DETAIL, height * DETAIL];
    const own = /** @type {CanvasRenderingContext2D} */ (scratch.getContext("2d"));
    own.scale(DETAIL, DETAIL);
    own.strokeStyle = own.fillStyle = paint[tile.ink];
    own.lineWidth = tile.width;
    tile.draw(own);
    pattern = /** @type {CanvasPattern} */ (c.createPattern(scratch, "repeat"));
    patterns.set(name, pattern);
  }
  pattern.setTransform(new DOMMatrix().translate(shift, 0).scale(unit / DETAIL).rotate(tile.turn ?? 0));
  return pattern;
}
