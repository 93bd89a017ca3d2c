/** Everything live, made once: what is known of the day, the strip in memory, the paper's clock, the scale, the sounds. */
import { Columns } from "./columns.js";
import { Connection } from "./connection.js";
import { Filler } from "./filler.js";
import { kept } from "./kept.js";
import { PaperClock } from "./paper-clock.js";
import { fullScale, RestScale } from "./scale.js";
import { Sound } from "./sound.js";
import { makeStore } from "./state.js";

const FIRST_SCALE_N = 4; // before the first pull: what a light sled needs
const DOUBT_S = 5; // of strip that is fetched again when the bench had to drop frames

/** @typedef {ReturnType<typeof makeDay>} Day */

/** @param {(caption: string) => void} caption */
export function makeDay(caption) {
  const store = makeStore();
  const columns = new Columns();
  const day = {
    store, columns, clock: new PaperClock(), scale: new RestScale(FIRST_SCALE_N), filler: new Filler(columns), sound: new Sound(caption),
    /** Notes written on the paper when the scale changed. @type {{at_s: number, full_N: number}[]} */
    scaleNotes: [],
    connection: /** @type {any} */ (null), caption: "",
  };
  day.connection = new Connection({
    hello: () => ({ after: store.get().seq, key: kept.key, code: kept.code }),
    message: (message) => take(day, message),
    frame: (frame) => {
      columns.add(frame, true);
      day.clock.see(performance.now() / 1000, columns.end_s);
    },
  });
  return day;
}

/** @param {Day} day @param {any} message */
function take(day, message) {
  if (message.kind === "behind") day.columns.doubt(day.columns.end_s - DOUBT_S);
  if (message.kind === "hello") greet(day, message);
  if (message.kind === "state" && message.state === "breakaway") day.sound.brokeAway();
  // A socket that was lost may have missed something: the row of live frames begins anew.
  if (message.kind === "line") day.columns.live_s = -Infinity;
  const before = day.store.get().fresh;
  day.store.take(message);
  const { fresh } = day.store.get();
  if (fresh !== before) day.scale.tell(heightOf(message.pull));
  if (message.kind === "pull" && fresh === message.pull.number && fresh !== before) day.sound.speak(message.pull.spoken);
}

/** @param {import("./types.js").Card} pull @returns {number} */
export const heightOf = (pull) => Math.abs(pull.breakaway.value ?? pull.kinetic.value ?? 0);

/** A pull of today sets the scale before the next one comes. @param {Day} day */
function greet(day, { pulls, now_s }) {
  if (!day.scale.heights_N.length) {
    for (const pull of pulls.slice(-5)) day.scale.tell(heightOf(pull));
    day.scale.full_N = Math.max(day.scale.full_N, fullScale(day.scale.largest_N));
  }
  // A bench that is silent just now still has a strip to show.
  if (day.columns.end_s === -Infinity && now_s > 0) day.clock.see(performance.now() / 1000, now_s);
}
