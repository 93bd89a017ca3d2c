import assert from "node:assert/strict";
import test from "node:test";
import { waitBefore } from "../../src/pullbench/web/static/connection.js";
import { after, START } from "../../src/pullbench/web/static/state.js";
import { quietStretches, spans } from "../../src/pullbench/web/static/spans.js";

const card = (number, more = {}) => ({
  number, start_s: 10 * number, end_s: 10 * number + 5, aside: null, stick_slip: null,
  phases: [{ name: "rest", from_s: 10 * number - 2, to_s: 10 * number }, { name: "loading", from_s: 10 * number, to_s: 10 * number + 1 },
    { name: "transition", from_s: 10 * number + 1, to_s: 10 * number + 2 }, { name: "kinetic", from_s: 10 * number + 2, to_s: 10 * number + 4 }], ...more,
});
const hello = { kind: "hello", seq: 9, role: "teacher", day: "2026-11-25", source: "virtual bench", label: "simulated", state: "quiet", now_s: 3, check: null, pulls: [card(2), card(1)], news: [] };
const through = (...messages) => messages.reduce(after, START);

test("hello sets the day, with its pulls in order", () => {
  const state = through(hello);
  assert.deepEqual([state.connection, state.role, state.label, state.seq], ["open", "teacher", "simulated", 9]);
  assert.deepEqual(state.pulls.map((p) => p.number), [1, 2]);
});
test("the same number replaces a pull, a new one is fresh", () => {
  const aside = through(hello, { kind: "pull", pull: card(1, { aside: "jerked" }) });
  assert.equal(aside.pulls[0].aside, "jerked");
  assert.equal(aside.fresh, null);
  assert.equal(after(aside, { kind: "pull", pull: card(3) }).fresh, 3);
});
test("a page that comes back keeps the states it saw and takes the bench's pulls", () => {
  const state = through(hello, { kind: "state", state: "loading", at_s: 4 }, { kind: "line", connection: "lost", retry_s: 1 }, { ...hello, seq: 20, pulls: [card(1)] });
  assert.equal(state.connection, "open");
  assert.equal(state.history.at(-1).state, "loading");
  assert.equal(state.pulls.length, 1);
  assert.equal(state.seq, 20);
});
test("a message of a kind that this page does not know changes nothing", () => assert.equal(after(START, { kind: "tomorrow", seq: 5 }), START));
test("standing down keeps what is known and says so; going on watch takes it back", () => {
  const down = through(hello, { kind: "stood down", sentence: "Stood down." });
  assert.deepEqual([down.onWatch, down.stoodDown, down.pulls.length], [false, "Stood down.", 2]);
  assert.equal(after(down, { kind: "state", state: "quiet", at_s: 9, on_watch: true }).onWatch, true);
});
test("what came before is never changed in place", () => {
  const state = through(hello);
  const copy = structuredClone(state);
  after(state, { kind: "pull", pull: card(1, { aside: "x" }) });
  assert.deepEqual(state, copy);
});

test("waits grow, have an end, and spread a room of phones", () => {
  assert.ok(waitBefore(0, 0.5) < waitBefore(3, 0.5));
  assert.ok(waitBefore(50, 1) <= 12.5);
  assert.notEqual(waitBefore(4, 0), waitBefore(4, 1));
});

test("a read pull shows its phases as analysed, the pull under way as seen live", () => {
  const shown = spans([card(1)], [{ state: "loading", at_s: 9.9 }, { state: "loading", at_s: 20 }, { state: "breakaway", at_s: 21 }, { state: "settling", at_s: 21.2 }, { state: "sliding", at_s: 22 }], 23);
  assert.deepEqual(shown.map((s) => [s.name, s.live]), [["loading", false], ["settling", false], ["sliding", false], ["loading", true], ["settling", true], ["sliding", true]]);
  assert.deepEqual([shown[4].from_s, shown[4].to_s, shown[5].to_s], [21, 22, 23]);
});
test("a stick-slip is no slide", () => assert.ok(spans([card(1, { stick_slip: { sentence: "" } })], [], 20).some((s) => s.name === "stick-slip")));
test("quiet reaches from pull to pull, and to now", () => assert.deepEqual(quietStretches([card(1), card(2)], 30), [{ from_s: 15, to_s: 20 }, { from_s: 25, to_s: 30 }]));
test("a refusal is shown until something happens on the bench", () => {
  const fault = { code: "x", what: "No.", allowed: "", next_step: "" };
  const refused = through(hello, { kind: "error", error: fault });
  assert.equal(refused.fault, fault);
  assert.equal(after(refused, { kind: "state", state: "loading", at_s: 5 }).fault, null);
});
