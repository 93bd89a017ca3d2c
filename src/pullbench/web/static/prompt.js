/** The word typed after "/": a slip at the foot of the page; the strip stays in sight. */
import { html, useLayoutEffect, useRef, useState } from "./html.js";
import { commandForWords, suggestions } from "./commands.js";
import { words } from "./words.js";

/** @param {{screen: string, doit: (id: string, rest: string) => void, close: () => void}} props */
export function Prompt({ screen, doit, close }) {
  const [text, setText] = useState("");
  const [sorry, setSorry] = useState("");
  const input = useRef(/** @type {HTMLInputElement|null} */ (null));
  useLayoutEffect(() => { // before the next key is pressed
    const before = /** @type {HTMLElement|null} */ (document.activeElement);
    input.current?.focus();
    return () => before?.focus?.();
  }, []);
  const submit = (event) => {
    event.preventDefault();
    if (text.trim() === "?") return close(), doit("help", "");
    const said = commandForWords(text) ?? commandForWords(suggestions(text, screen)[0] ?? "");
    if (!said || !text.trim()) return setSorry(words.prompt.unknown(text));
    close();
    doit(said.id, said.rest);
  };
  const fitting = suggestions(text, screen).slice(0, 7);
  return html`<form class="prompt" onSubmit=${submit}>
    <label><span class="prompt-slash" aria-hidden="true">/</span><span class="unseen">${words.prompt.label}</span>
      <input ref=${input} value=${text} autocomplete="off" spellcheck="false" aria-describedby="prompt-hint"
        onInput=${(e) => { setText(e.target.value.replace(/^\//, "")); setSorry(""); }}
        onKeyDown=${(e) => e.key === "Escape" && (e.stopPropagation(), close())} /></label>
    <p id="prompt-hint" role="status">${sorry || fitting.join(" · ") || words.prompt.hint}</p>
  </form>`;
}
