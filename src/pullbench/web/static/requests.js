/** Questions and orders to the bench, over HTTP. A refusal comes back as a fault in three sentences. */
import { readFrame } from "./frames.js";
import { kept } from "./kept.js";
import { words } from "./words.js";

export class Refused extends Error {
  /** @param {import("./types.js").Fault} fault */
  constructor(fault) {
    super(fault.what);
    this.fault = fault;
  }
}

const unclear = (what) => new Refused({ code: "page", what, allowed: words.fault.allowed, next_step: words.fault.next });

/** @param {string} path @param {RequestInit} [how] */
async function ask(path, how = {}) {
  const headers = new Headers(how.headers);
  if (kept.key) headers.set("X-Bench-Key", kept.key);
  if (kept.code) headers.set("X-Join-Code", kept.code);
  let response;
  try {
    response = await fetch(path, { ...how, headers });
  } catch {
    throw unclear(words.fault.unreachable);
  }
  if (response.ok) return response;
  let fault = /** @type {import("./types.js").Fault|null} */ (null);
  try {
    fault = (await response.json()).error;
  } catch { /* said below */ }
  throw fault?.what ? new Refused(fault) : unclear(words.fault.unreadable);
}

/** @param {string} path @returns {Promise<any>} */
export const get = async (path) => (await ask(path)).json();

/** @param {string} path @param {unknown} [body] @returns {Promise<any>} */
export async function post(path, body) {
  const response = await ask(path, {
    method: "POST", body: JSON.stringify(body ?? {}), headers: { "Content-Type": "application/json" },
  });
  return response.json();
}

/** Take a file: the key goes in a header, so it stands in no address. @param {string} path @param {unknown} body @returns {Promise<string>} its name */
export async function take(path, body) {
  const response = await ask(path, { method: "POST", body: JSON.stringify(body), headers: { "Content-Type": "application/json" } });
  const name = /filename="([^"]+)"/.exec(response.headers.get("Content-Disposition") ?? "")?.[1] ?? "pullbench";
  const link = document.createElement("a");
  link.href = URL.createObjectURL(await response.blob());
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // a browser may still be reading it
  return name;
}

/** @param {number} from_s @param {number} to_s @param {number} columns */
export async function getStrip(from_s, to_s, columns) {
  const response = await ask(`strip?from=${from_s}&to=${to_s}&columns=${columns}`);
  const frame = readFrame(await response.arrayBuffer());
  if (!frame) throw unclear(words.fault.unreadable);
  return frame;
}

/** @param {number} number @param {string|null} day @param {string} [action] @returns {string} */
export const pullPath = (number, day, action = "") => `pull/${number}${action}${day ? `?day=${day}` : ""}`;
