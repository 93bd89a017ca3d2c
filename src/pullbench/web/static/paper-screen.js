/** The frame of a paper screen: its head, its style, and that only the teacher sees it. */
import { html } from "./html.js";
import { words } from "./paper-words.js";
import { Label } from "./parts.js";
import { SheetHead } from "./ribbon.js";

style();

/** @param {{name: string, title: string, about?: string, label?: import("./types.js").Label, day: any, state: import("./state.js").State, children?: any}} props */
export function PaperScreen({ name, title, about, label, day, state, children }) {
  return html`<main class=${`sheet paper ${name}`}>
    <${SheetHead} title=${title} day=${day} state=${state}>${about && html`<p class="pp-about">${about}</p>`}<${Label} label=${label ?? null} /></${SheetHead}>
    ${state.role === "teacher" ? children : html`<p class="sheet-body pp-only">${words.teacherOnly}</p>`}
  </main>`;
}

/** The screens' own style sheet, put in once. */
function style() {
  if (document.querySelector("link[data-paper]")) return;
  const link = document.createElement("link");
  link.rel = "stylesheet";
  link.href = "static/paper.css";
  link.dataset.paper = "";
  document.head.append(link);
}
