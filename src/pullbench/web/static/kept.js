/** What this browser keeps: keys for this tab only, choices for good. Private windows may refuse; nothing depends on it. */
import { keysOf } from "./routes.js";

/** @param {() => Storage} where @param {string} name */
function read(where, name) {
  try {
    return where().getItem(name);
  } catch {
    return null;
  }
}

/** @param {() => Storage} where @param {string} name @param {string} value */
function write(where, name, value) {
  try {
    where().setItem(name, value);
  } catch { /* a choice lives as long as the page, then */ }
}

const tab = () => sessionStorage;
const browser = () => localStorage;

export const kept = { key: /** @type {string|null} */ (null), code: /** @type {string|null} */ (null) };

/** Take the keys out of the address before anybody can copy it. @returns {boolean} whether a join code came */
export function takeKeys() {
  const came = keysOf(location.hash);
  for (const name of /** @type {("key"|"code")[]} */ (["key", "code"])) {
    const value = came[name];
    if (value) write(tab, `pullbench.${name}`, value);
    kept[name] = value ?? read(tab, `pullbench.${name}`);
  }
  if (came.key || came.code) history.replaceState(null, "", came.code ? "#follow" : "#bench");
  return Boolean(came.code);
}

/** @param {string} code */
export function keepCode(code) {
  kept.code = code;
  write(tab, "pullbench.code", code);
}

/** @param {string} name @param {string} otherwise @returns {string} */
export const choice = (name, otherwise) => read(browser, `pullbench.${name}`) ?? otherwise;

/** @param {string} name @param {string} value */
export const choose = (name, value) => write(browser, `pullbench.${name}`, value);
