/** The next lesson's screens, fetched when first looked at: the bench itself stays as light as it was. */
import { html, useEffect, useState } from "./html.js";

/** @type {Record<string, () => Promise<any>>} by name in the address */
const SCREENS = {
  forces: () => import("./freebody-screen.js"),
  required: () => import("./required-screen.js"),
  sheets: () => import("./sheets-screen.js"),
  items: () => import("./items-screen.js"),
  review: () => import("./review-screen.js"),
};

/** Whether a screen is one of these. @param {string} screen */
export const isNextLesson = (screen) => Object.hasOwn(SCREENS, screen);

/** @param {{route: import("./routes.js").Route, day: import("./day.js").Day, state: import("./state.js").State}} props */
export function NextLesson(props) {
  const { screen } = props.route;
  const [found, put] = useState(/** @type {{screen: string, Screen: any}|null} */ (null));
  useEffect(() => {
    style();
    let wanted = true;
    void SCREENS[screen]().then((module) => { if (wanted) put({ screen, Screen: module.Screen }); });
    return () => { wanted = false; };
  }, [screen]);
  if (!found || found.screen !== screen) return html`<main class="sheet"><h1 tabindex="-1" class="unseen">…</h1></main>`;
  return html`<${found.Screen} ...${props} />`;
}

/** The screens' own style sheet, put in once. */
function style() {
  if (document.querySelector("link[data-next-lesson]")) return;
  const link = document.createElement("link");
  link.rel = "stylesheet";
  link.href = "static/next-lesson.css";
  link.dataset.nextLesson = "";
  document.head.append(link);
}
