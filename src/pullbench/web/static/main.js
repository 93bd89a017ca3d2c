/** The page: one socket, one strip, screens by hash, commands by key. */
import { Bench } from "./bench-screen.js";
import { CheckSheet } from "./check-screen.js";
import { commandForKey } from "./commands.js";
import { makeActs } from "./acts.js";
import { makeDay } from "./day.js";
import { Follow } from "./follow-screen.js";
import { Help } from "./help-screen.js";
import { html, render, useCallback, useEffect, useMemo, useRef, useState } from "./html.js";
import { JoinSheet } from "./join-screen.js";
import { choice, choose, takeKeys } from "./kept.js";
import { Ladder } from "./ladder-screen.js";
import { Logbook } from "./logbook-screen.js";
import { Textures, useStore } from "./parts.js";
import { PredictionSheet } from "./prediction-screen.js";
import { Prompt } from "./prompt.js";
import { PullSheet } from "./sheet-screen.js";
import { Rehearsal } from "./rehearsal-screen.js";
import { enterRoom } from "./room.js";
import { routeOf } from "./routes.js";
import { Slip } from "./slip-screen.js";
import { Surfaces } from "./surfaces-screen.js";
import { Tilt } from "./tilt-screen.js";
import { isNextLesson, NextLesson } from "./next-lesson.js";
import { words } from "./words.js";

const BENCH_SPAN_S = 8.5; // 136 units of paper a second on a projector
const PHONE_SPAN_S = 6;
const CAPTION_MS = 6000;

function useRoute() {
  const [route, setRoute] = useState(routeOf(location.hash));
  useEffect(() => {
    const change = () => setRoute(routeOf(location.hash));
    addEventListener("hashchange", change);
    return () => removeEventListener("hashchange", change);
  }, []);
  return route;
}

/** A caption stays long enough to be read. */
function useCaption() {
  const [caption, setCaption] = useState("");
  const timer = useRef(0);
  const say = useCallback((text) => {
    clearTimeout(timer.current);
    setCaption(text);
    timer.current = setTimeout(() => setCaption(""), CAPTION_MS);
  }, []);
  return /** @type {const} */ ([caption, say]);
}

const inField = (/** @type {EventTarget|null} */ target) => target instanceof HTMLElement && target.matches("input:not([type=checkbox], [type=radio]), textarea, select");
const movable = (/** @type {EventTarget|null} */ target) => target instanceof HTMLElement && target.matches("[role=slider]");

function App() {
  const route = useRoute();
  const [caption, sayCaption] = useCaption();
  const [view, look] = useState({ span_s: innerWidth < 900 ? PHONE_SPAN_S : BENCH_SPAN_S, end_s: /** @type {number|null} */ (null) });
  const [prompting, prompt] = useState(false);
  const [letters, setLetters] = useState(choice("letters", "on") === "on");
  const [sought, search] = useState("");
  const day = useMemo(() => makeDay(sayCaption), []);
  const state = useStore(day.store);
  const now = useRef({ route, view, letters });
  now.current = { route, view, letters };
  day.caption = caption; // what sounds is told in the head of every sheet, where it covers nothing
  const doit = useMemo(() => makeActs({
    day, route: () => now.current.route, view: () => now.current.view, look, prompt, caption: sayCaption, search,
  }), []);

  useEffect(() => {
    day.connection.open();
    const hurry = () => day.connection.hurry();
    const events = ["online", "pageshow", "visibilitychange"]; // a page that slept asks at once
    for (const name of events) addEventListener(name, hurry);
    return () => { for (const name of events) removeEventListener(name, hurry); };
  }, []);

  useEffect(() => {
    const key = (/** @type {KeyboardEvent} */ event) => {
      day.sound.allow();
      if (event.defaultPrevented || inField(event.target) || (movable(event.target) && event.key.startsWith("Arrow"))) return;
      const said = commandForKey(event, now.current.route.screen, now.current.letters);
      if (!said) return;
      event.preventDefault();
      doit(said.id, said.rest);
    };
    const click = () => day.sound.allow();
    addEventListener("keydown", key);
    addEventListener("pointerdown", click);
    return () => { removeEventListener("keydown", key); removeEventListener("pointerdown", click); };
  }, []);

  useEffect(() => {
    const name = words.titles[route.screen];
    const held = route.pulls.length ? ` ${route.pulls.join(", ")}` : "";
    document.title = `${name}${held}${state.label ? `, ${words.labels[state.label] ?? state.label}` : ""} · ${words.product}`;
  }, [route, state.label]);

  const asking = state.prediction?.state === "open" && state.role !== "teacher";
  useEffect(() => { // a phone that follows gets the slip when the class is asked, and the strip again afterwards
    if (asking && now.current.route.screen === "follow") location.hash = "#slip";
  }, [asking]);
  useEffect(() => {
    if (state.greeted && !state.prediction && state.role !== "teacher" && now.current.route.screen === "slip") location.hash = "#follow";
  }, [state.prediction === null]);

  useEffect(() => { // a new sheet is read from its head
    if (route.screen !== "bench" && route.screen !== "follow") document.querySelector("h1")?.focus({ preventScroll: true });
  }, [route.screen, route.pulls.join()]);

  const shared = { day, state, view, look, doit, caption };
  return html`
    <${Textures} />
    ${screen(route, shared, { letters, setLetters: (/** @type {boolean} */ on) => { setLetters(on); choose("letters", on ? "on" : "off"); }, sought, search })}
    ${prompting && html`<${Prompt} screen=${route.screen} doit=${doit} close=${() => prompt(false)} />`}`;
}

function screen(route, shared, more) {
  if (isNextLesson(route.screen)) return html`<${NextLesson} key=${route.screen} route=${route} ...${shared} />`;
  if (route.screen === "pull") return html`<${PullSheet} key=${route.pulls[0]} route=${route} ...${shared} />`;
  if (route.screen === "check") return html`<${CheckSheet} ...${shared} />`;
  if (route.screen === "rehearsal") return html`<${Rehearsal} ...${shared} />`;
  if (route.screen === "logbook") return html`<${Logbook} route=${route} ...${shared} sought=${more.sought} search=${more.search} />`;
  if (route.screen === "slip" && shared.state.connection !== "refused") return html`<${Slip} ...${shared} />`;
  if (route.screen === "follow" || route.screen === "slip") return html`<${Follow} ...${shared} />`;
  if (route.screen === "help") return html`<${Help} ...${shared} ...${more} />`;
  if (route.screen === "ladder") return html`<${Ladder} ...${shared} />`;
  if (route.screen === "surfaces") return html`<${Surfaces} ...${shared} />`;
  if (route.screen === "tilt") return html`<${Tilt} ...${shared} />`;
  if (route.screen === "prediction") return html`<${PredictionSheet} ...${shared} />`;
  if (route.screen === "join") return html`<${JoinSheet} ...${shared} />`;
  return html`<${Bench} ...${shared} />`;
}

document.documentElement.lang = words.language;
enterRoom();
takeKeys();
await Promise.race([document.fonts.load("500 20px Commissioner"), new Promise((done) => setTimeout(done, 400))]);
render(html`<${App} />`, /** @type {HTMLElement} */ (document.getElementById("page")));
