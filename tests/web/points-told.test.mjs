import assert from "node:assert/strict";
import test from "node:test";
import { paired } from "../../src/pullbench/web/static/drawer.js";
import { columnPoints, nearest, tracePoints, usualStep } from "../../src/pullbench/web/static/points.js";
import { Steering } from "../../src/pullbench/web/static/steering.js";
import { amount, forceWords, glued, kineticWords, staticWords } from "../../src/pullbench/web/static/told.js";
import { withMarks } from "../../src/pullbench/web/static/use-pull.js";

const drawn = (pairs, bridge) => {
  const xy = new Float32Array(6 * pairs.length);
  const count = columnPoints(new Float32Array(pairs.flat()), pairs.length, (i) => i, (f) => -10 * f, 1, bridge, xy);
  return Array.from({ length: count }, (_, i) => [xy[2 * i], xy[2 * i + 1]]);
};

test("a column on one pixel is one point, a tall one runs on from the nearer end", () => {
  assert.deepEqual(drawn([[1, 1.02], [1, 3]], 2).map(([x]) => x), [0, 1, 1]);
  assert.deepEqual(drawn([[1, 1], [1, 3]], 2).slice(1).map(([, y]) => y), [-10, -30]);
  assert.deepEqual(drawn([[3, 3], [1, 3]], 2).slice(1).map(([, y]) => y), [-30, -10]);
});
test("a short run without samples is joined, a longer one lifts the pen", () => {
  const none = [NaN, NaN];
  assert.ok(drawn([[1, 1], none, none, [1, 1]], 2).every(([, y]) => !Number.isNaN(y)));
  assert.equal(drawn([[1, 1], none, none, none, [1, 1]], 2).filter(([, y]) => Number.isNaN(y)).length, 1);
});
test("a trace is lifted over a gap and drawn along the pull", () => {
  const trace = { time_s: [0, 0.1, 0.2, 2, 2.1], force_N: [-1, -2, -3, -4, -5] };
  const { xy, count } = tracePoints(trace, (t) => t, (f) => f, -1);
  const ys = Array.from({ length: count }, (_, i) => xy[2 * i + 1]);
  assert.deepEqual(ys, [1, 2, 3, NaN, 4, 5]);
});
test("the nearest sample is found, and the usual step is no matter of one gap", () => {
  const time_s = [0, 0.1, 0.2, 0.3, 5];
  assert.deepEqual([-1, 0.04, 0.06, 0.26, 2, 9].map((t) => nearest(time_s, t)), [0, 0, 1, 3, 3, 4]);
  assert.ok(Math.abs(usualStep(time_s) - 0.1) < 1e-9);
});

const told = (more) => ({ kind: "value", text: "3.12", plus_minus: "0.03", unit: "N", value: 3.12, low: 3.09, high: 3.15, reason: null, ...more });
const card = (b, k) => ({ breakaway: b, kinetic: k });
test("a result never stands bare: plus or minus, a bound, or that it cannot be told", () => {
  assert.equal(amount(told({})), "3.12 N ± 0.03");
  assert.equal(amount(told({ kind: "lower bound", plus_minus: null })), "at least 3.12 N");
  assert.equal(amount(told({ kind: "lower bound", text: "at least 3.12", plus_minus: null })), "at least 3.12 N");
  assert.equal(amount(told({ kind: "cannot tell", text: null, value: null })), "cannot tell");
  assert.equal(staticWords(card(told({ kind: "cannot tell", text: null }))), "static: cannot tell");
  assert.equal(kineticWords(card(null, told({}))), "kinetic 3.12 N ± 0.03");
});
test("the force in words carries its plus or minus and where it comes from", () => {
  assert.equal(forceWords({ text: "2.41", plus_minus: "0.02", unit: "N", value_N: 2.41 }, "simulated"), "2.41 N ± 0.02, simulated");
  assert.equal(forceWords(null, null), "no reading");
});
test("a number is not torn from its unit and its plus or minus by a line's end", () => {
  assert.equal(glued("slid at 2.24 N ± 0.02."), "slid at 2.24\u00a0N\u00a0±\u00a00.02.");
  assert.equal(glued("pull 7 was jerked"), "pull 7 was jerked");
});

test("the budget has one row for a source, biggest first", () => {
  const row = (source, share) => ({ source, share, u_text: "" });
  const rows = paired({ breakaway: [row("a", 0.1), row("b", 0.9)], kinetic: [row("c", 0.95), row("a", 0.2)] });
  assert.deepEqual(rows.map((r) => r.source), ["c", "b", "a"]);
  assert.equal(rows[0].breakaway, null);
});
test("marks move what was marked and nothing else", () => {
  const before = card({ at_s: 1, text: "x" }, { from_s: 2, to_s: 3 });
  const moved = withMarks(before, { breakaway_s: 1.5 });
  assert.equal(moved.breakaway.at_s, 1.5);
  assert.deepEqual(moved.kinetic, before.kinetic);
  assert.equal(before.breakaway.at_s, 1);
});

test("a hand reaches where the pointer is, without a jump and not beyond its track", () => {
  const hand = new Steering(0.6);
  hand.point(2);
  let [last, most] = [0, 0];
  for (let i = 0; i < 100; i += 1) {
    const now = hand.advance(1 / 60);
    most = Math.max(most, now - last);
    last = now;
  }
  assert.ok(Math.abs(last - 0.6) < 1e-3);
  assert.ok(most < 0.2);
});
test("an arrow key walks the hand, and letting it go stops it", () => {
  const hand = new Steering(0.6);
  hand.press(1, false);
  for (let i = 0; i < 120; i += 1) hand.advance(1 / 60);
  const walked = hand.hand_m;
  assert.ok(walked > 0.012 && walked < 0.026);
  hand.press(0, false);
  for (let i = 0; i < 240; i += 1) hand.advance(1 / 60);
  const stopped = hand.hand_m;
  hand.advance(1 / 60);
  assert.ok(stopped - walked < 0.008 && Math.abs(hand.hand_m - stopped) < 1e-5);
});
