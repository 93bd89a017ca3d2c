/** The room the page stands in: light or dark, full screen or not. */
import { choice, choose } from "./kept.js";
import { forgetColours } from "./theme.js";

const dark = matchMedia("(prefers-color-scheme: dark)");

export function enterRoom() {
  const chosen = choice("room", "");
  if (chosen) document.documentElement.dataset.room = chosen;
  dark.addEventListener("change", forgetColours);
  matchMedia("(forced-colors: active)").addEventListener("change", forgetColours);
}

export function flipRoom() {
  const { dataset } = document.documentElement;
  const now = dataset.room ?? (dark.matches ? "dark" : "light");
  dataset.room = now === "dark" ? "light" : "dark";
  choose("room", dataset.room);
  forgetColours();
}

export function fullScreen() {
  const done = document.fullscreenElement ? document.exitFullscreen() : document.documentElement.requestFullscreen?.();
  done?.catch(() => { /* a browser may refuse; the page is the same without */ });
}
