/** The socket to the bench: it says hello, hands on what comes, and never gives up. */
import { readFrame } from "./frames.js";

const FIRST_WAIT_S = 0.5;
const LONGEST_WAIT_S = 10;
const REFUSED = 1008; // policy violation: a wrong code or host does not get better by trying

/** @param {number} attempt from 0 @param {number} chance 0 to 1, spreads a room of phones @returns {number} seconds */
export function waitBefore(attempt, chance) {
  return Math.min(LONGEST_WAIT_S, FIRST_WAIT_S * 2 ** attempt) * (0.75 + 0.5 * chance);
}

/** @param {string} path @param {Location} place @returns {string} */
export function socketAddress(path, place) {
  const address = new URL(path, place.href);
  address.protocol = place.protocol === "https:" ? "wss:" : "ws:";
  address.hash = "";
  return address.href;
}

export class Connection {
  /**
   * @param {object} to
   * @param {(message: any) => void} to.message
   * @param {(frame: NonNullable<ReturnType<typeof readFrame>>) => void} to.frame
   * @param {() => {after: number, key: string|null, code: string|null}} to.hello what to say first
   */
  constructor(to) {
    this.to = to;
    this.attempt = 0;
    /** @type {WebSocket|null} */
    this.socket = null;
    this.timer = 0;
  }

  open() {
    clearTimeout(this.timer);
    const socket = new WebSocket(socketAddress("watch", location));
    this.socket = socket;
    socket.binaryType = "arraybuffer";
    socket.onopen = () => socket.send(JSON.stringify(this.to.hello()));
    socket.onmessage = (event) => this.#take(event.data);
    socket.onclose = (event) => this.#lost(event.code);
  }

  #take(data) {
    if (data instanceof ArrayBuffer) {
      const frame = readFrame(data);
      if (frame) this.to.frame(frame);
      return;
    }
    const message = JSON.parse(data);
    if (message.kind === "hello") this.attempt = 0;
    this.to.message(message);
  }

  #lost(code) {
    if (code === REFUSED) {
      this.to.message({ kind: "line", connection: "refused" });
      return;
    }
    const wait_s = waitBefore(this.attempt, Math.random());
    this.attempt += 1;
    this.to.message({ kind: "line", connection: "lost", retry_s: Math.ceil(wait_s) });
    this.timer = setTimeout(() => this.open(), 1000 * wait_s);
  }

  /** The network says it is back: do not wait any longer. */
  hurry() {
    if (this.socket && this.socket.readyState <= WebSocket.OPEN) return;
    this.attempt = 0;
    this.open();
  }
}
