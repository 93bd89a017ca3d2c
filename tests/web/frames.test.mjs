import assert from "node:assert/strict";
import test from "node:test";
import { readFrame } from "../../src/pullbench/web/static/frames.js";

/** A frame written byte by byte, as the protocol describes it. */
function frame(start_s, column_s, numbers) {
  const view = new DataView(new ArrayBuffer(16 + 4 * numbers.length));
  view.setFloat64(0, start_s, true);
  view.setFloat64(8, column_s, true);
  numbers.forEach((n, i) => view.setFloat32(16 + 4 * i, n, true));
  return view.buffer;
}

test("a frame gives back start, column length and pairs", () => {
  const read = readFrame(frame(12.34, 0.01, [1.5, 2.5, NaN, NaN]));
  assert.equal(read.start_s, 12.34);
  assert.equal(read.column_s, 0.01);
  assert.equal(read.count, 2);
  assert.deepEqual([...read.pairs], [1.5, 2.5, NaN, NaN]);
});

test("an empty frame has no columns", () => assert.equal(readFrame(frame(0, 0.01, [])).count, 0));

for (const [what, buffer] of [
  ["shorter than its head", new ArrayBuffer(9)],
  ["with half a pair", frame(0, 0.01, [1])],
  ["with columns of no length", frame(0, 0, [1, 2])],
  ["with columns of NaN", frame(0, NaN, [1, 2])],
  ["that starts nowhere", frame(Infinity, 0.01, [1, 2])],
]) test(`a frame ${what} is refused`, () => assert.equal(readFrame(buffer), null));
