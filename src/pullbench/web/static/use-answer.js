/** A question to the bench whose answer follows the day; the last answer stays in sight until the next is there. */
import { useEffect, useState } from "./html.js";
import { get, post, Refused } from "./requests.js";

/** @typedef {import("./types.js").Fault} Fault */

/** @param {string|null} path @param {unknown[]} of when to ask again @param {{keep?: boolean, calm_ms?: number}} [how]
 *  @returns {{answer: any, fault: Fault|null}} */
export function useAnswer(path, of, { keep = false, calm_ms = 0 } = {}) {
  const [got, setGot] = useState({ answer: /** @type {any} */ (null), fault: /** @type {any} */ (null) });
  useEffect(() => {
    let wanted = true;
    if (!path) return setGot({ answer: null, fault: null });
    const ask = () => get(path).then(
      (answer) => wanted && setGot({ answer, fault: null }),
      (refused) => wanted && refused instanceof Refused && setGot((was) => ({ answer: keep ? was.answer : null, fault: refused.fault })),
    );
    const timer = setTimeout(ask, calm_ms); // several things that change at once are one question
    return () => { wanted = false; clearTimeout(timer); };
  }, of);
  return got;
}

/** @returns {{order: (path: string, body?: unknown) => Promise<any>, fault: Fault|null, refuse: (what: string, allowed: string, next: string) => void}} orders of one screen, and why the last was refused */
export function useOrder() {
  const [fault, setFault] = useState(/** @type {Fault|null} */ (null));
  const order = async (/** @type {string} */ path, /** @type {unknown} */ body) => {
    try {
      const answer = await post(path, body);
      setFault(null);
      return answer ?? {};
    } catch (refused) {
      if (refused instanceof Refused) setFault(refused.fault);
      return null;
    }
  };
  const refuse = (what, allowed, next_step) => setFault({ code: "page", what, allowed, next_step });
  return { order, fault, refuse };
}

/** @returns {"light"|"dark"} the room as it is now; rendered again when it is flipped */
export function useRoom() {
  const [room, setRoom] = useState(roomNow());
  useEffect(() => {
    const look = () => setRoom(roomNow());
    const watch = new MutationObserver(look);
    watch.observe(document.documentElement, { attributes: true, attributeFilter: ["data-room"] });
    const dark = matchMedia("(prefers-color-scheme: dark)");
    dark.addEventListener("change", look);
    return () => { watch.disconnect(); dark.removeEventListener("change", look); };
  }, []);
  return room;
}

const roomNow = () => /** @type {"light"|"dark"} */ (document.documentElement.dataset.room ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light"));
