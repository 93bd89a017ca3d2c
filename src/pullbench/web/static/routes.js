/**
 * Screens by hash: #bench #check #pull/7 #pull/7+9 #pull/2026-11-24/7 #rehearsal #logbook #logbook/2026-11-24 #follow
 * #ladder #surfaces #tilt #prediction #slip ...
 * Anything else is the bench.
 */

const PLAIN = ["bench", "check", "rehearsal", "logbook", "follow", "help", "join", "ladder", "surfaces", "tilt", "prediction", "slip", "required", "sheets", "items", "review"];

/** @typedef {{screen: string, pulls: number[], day: string|null}} Route */

/** @param {string} hash @returns {Route} */
export function routeOf(hash) {
  const [screen, ...rest] = hash.replace(/^#/, "").split("/");
  const day = rest.find((part) => /^\d{4}-\d\d-\d\d$/.test(part)) ?? null;
  if (screen === "pull" || screen === "forces") {
    const pulls = (rest.at(-1) ?? "").split("+").map(Number).filter((n) => Number.isInteger(n) && n > 0);
    if (pulls.length) return { screen, pulls: [...new Set(pulls)], day };
  }
  if (PLAIN.includes(screen)) return { screen, pulls: [], day };
  return { screen: "bench", pulls: [], day: null };
}

/** @param {number[]} pulls @param {string|null} [day] of another day than today @returns {string} */
export const pullHash = (pulls, day = null) => `#pull/${day ? `${day}/` : ""}${pulls.join("+")}`;

/** Keys that come in the address once (#key=... or #code=...), never to be left in it. @param {string} hash */
export function keysOf(hash) {
  const found = /** @type {{key?: string, code?: string}} */ ({});
  for (const [, name, value] of hash.matchAll(/(?:^#|&)(key|code)=([^&]+)/g)) {
    found[/** @type {"key"|"code"} */ (name)] = decodeURIComponent(value);
  }
  return found;
}
