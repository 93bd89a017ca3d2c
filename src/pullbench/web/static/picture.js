/** A canvas that is drawn again when what it shows, its size or the room changes. */
import { html, useEffect, useRef, useState } from "./html.js";
import { prepared } from "./canvas.js";

/** @param {{draw: (on: NonNullable<ReturnType<typeof prepared>>) => void, of: unknown[], kind: string, describe: string}} props `of`: what the picture depends on */
export function Picture({ draw, of, kind, describe }) {
  const canvas = useRef(/** @type {HTMLCanvasElement|null} */ (null));
  const [turn, again] = useState(0);
  useEffect(() => {
    const on = canvas.current && prepared(canvas.current);
    if (on) draw(on);
  }, [...of, turn]);
  useEffect(() => {
    const redraw = () => again((n) => n + 1);
    const sizes = new ResizeObserver(redraw);
    const room = new MutationObserver(redraw);
    const dark = matchMedia("(prefers-color-scheme: dark)");
    if (canvas.current) sizes.observe(canvas.current);
    room.observe(document.documentElement, { attributes: true, attributeFilter: ["data-room"] });
    dark.addEventListener("change", redraw);
    return () => { sizes.disconnect(); room.disconnect(); dark.removeEventListener("change", redraw); };
  }, []);
  return html`<canvas class=${kind} ref=${canvas} role="img" aria-label=${describe}></canvas>`;
}
