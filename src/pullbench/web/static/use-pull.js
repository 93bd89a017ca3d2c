/** A held-up pull and the marks a hand puts on it: the picture follows at once, the number as soon as the bench has read it. */
import { useCallback, useEffect, useRef, useState } from "./html.js";
import { get, post, pullPath, Refused } from "./requests.js";

const CALM_MS = 140; // after the last move of a mark, the bench is asked

/** @typedef {{breakaway_s?: number, sliding_s?: [number, number]}} Marks */
/** @typedef {import("./types.js").CardPlus} CardPlus */

/** @param {CardPlus} card @param {Marks|null} marks @returns {CardPlus} the card with its marks where the hand put them */
export function withMarks(card, marks) {
  if (!marks) return card;
  const { breakaway_s, sliding_s } = marks;
  return {
    ...card,
    breakaway: breakaway_s === undefined ? card.breakaway : { ...card.breakaway, at_s: breakaway_s },
    kinetic: sliding_s === undefined ? card.kinetic : { ...card.kinetic, from_s: sliding_s[0], to_s: sliding_s[1] },
  };
}

/** @param {number} number @param {string|null} day @param {import("./types.js").Card|undefined} live the day's own card of it: when it changes, it is fetched anew */
export function usePull(number, day, live) {
  const [card, setCard] = useState(/** @type {CardPlus|null} */ (null));
  const [fault, setFault] = useState(/** @type {import("./types.js").Fault|null} */ (null));
  const [marks, setMarks] = useState(/** @type {Marks|null} */ (null));
  const [reading, setReading] = useState(false);
  const timer = useRef(0);
  const latest = useRef(0); // an answer that was overtaken is not shown
  const pending = useRef(/** @type {Marks} */ ({}));

  const run = useCallback(async (/** @type {Promise<CardPlus>} */ question) => {
    const turn = (latest.current += 1);
    setReading(true);
    try {
      const answer = await question;
      if (turn === latest.current) { setCard(answer); setMarks(null); setFault(null); }
    } catch (refused) {
      if (turn === latest.current && refused instanceof Refused) { setFault(refused.fault); setMarks(null); }
    } finally {
      if (turn === latest.current) setReading(false);
    }
  }, []);

  useEffect(() => {
    if (live?.provisional) return; // the sheet is read once the rest after the pull is complete
    if (!timer.current) void run(get(pullPath(number, day)));
  }, [number, day, live]);
  useEffect(() => () => clearTimeout(timer.current), []);

  const send = (/** @type {string} */ action, /** @type {unknown} */ body) => run(post(pullPath(number, day, action), body));
  const mark = (/** @type {Marks} */ moved) => {
    pending.current = { ...pending.current, ...moved };
    latest.current += 1; // what is still on its way is about older marks
    setMarks({ ...pending.current });
    setReading(true);
    clearTimeout(timer.current);
    timer.current = setTimeout(() => {
      timer.current = 0;
      const body = pending.current;
      pending.current = {};
      void send("/marks", body);
    }, CALM_MS);
  };
  return { card: card && withMarks(card, marks), fault, reading, mark, send };
}
