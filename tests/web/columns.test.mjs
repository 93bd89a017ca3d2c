import assert from "node:assert/strict";
import test from "node:test";
import { Columns, columnSeconds, levelFor } from "../../src/pullbench/web/static/columns.js";

const frame = (start_s, values, column_s = 0.01) => ({
  start_s, column_s, count: values.length, pairs: new Float32Array(values.flatMap((v) => (Array.isArray(v) ? v : [v, v]))),
});

function read(columns, level, first, count) {
  const out = new Float32Array(2 * count);
  columns.read(level, first, count, out);
  return [...out];
}

test("columns come back as they were added, NaN where nothing was", () => {
  const columns = new Columns();
  columns.add(frame(1, [1, 2, NaN, 4]));
  assert.deepEqual(read(columns, 0, 99, 6), [NaN, NaN, 1, 1, 2, 2, NaN, NaN, 4, 4, NaN, NaN]);
});

test("every coarser level holds the least and greatest of its four columns", () => {
  const columns = new Columns();
  const values = Array.from({ length: 5000 }, (_, i) => Math.fround(Math.sin(i * i)));
  columns.add(frame(0, values));
  for (const level of [1, 2, 3, 4]) {
    const wide = 4 ** level;
    const got = read(columns, level, 0, Math.floor(5000 / wide));
    for (let i = 0; i < got.length / 2; i += 1) {
      const own = values.slice(i * wide, (i + 1) * wide);
      assert.equal(got[2 * i], Math.min(...own));
      assert.equal(got[2 * i + 1], Math.max(...own));
    }
  }
});

test("a spike of one sample survives every level of detail", () => {
  const columns = new Columns();
  columns.add(frame(0, Array.from({ length: 100000 }, (_, i) => (i === 70007 ? 9 : 0))));
  const out = read(columns, 6, 0, 30);
  assert.equal(Math.max(...out.filter((v) => !Number.isNaN(v))), 9);
});

test("frames of a slow sensor that do not touch leave nothing to ask for when they are live", () => {
  const columns = new Columns();
  columns.add(frame(0, [1]), true);
  columns.add(frame(0.1, [1]), true);
  assert.deepEqual(columns.missing(0, 0, 0.1), []);
});

test("a hole between what was fetched and what is live is asked for", () => {
  const columns = new Columns();
  columns.add(frame(0, new Array(100).fill(1)));
  columns.add(frame(1.08, [1, 1]), true);
  const [[from_s, to_s], ...more] = columns.missing(0, 0, 1.1);
  assert.ok(Math.abs(from_s - 1) < 1e-6 && Math.abs(to_s - 1.08) < 1e-6);
  assert.deepEqual(more, []);
});

test("after dropped frames the doubtful stretch is asked for again", () => {
  const columns = new Columns();
  columns.add(frame(0, new Array(1000).fill(1)), true);
  columns.doubt(5);
  const [[from_s, to_s]] = columns.missing(0, 0, 10);
  assert.ok(Math.abs(from_s - 5) < 1e-6 && Math.abs(to_s - 10) < 1e-6);
});

test("an hour and more is bounded in memory, and what was forgotten is asked for", () => {
  const columns = new Columns();
  for (let s = 0; s < 6000; s += 10) columns.add(frame(s, new Array(1000).fill(1)), true);
  assert.ok(columns.levels[0].size <= 1001);
  assert.ok(columns.missing(0, 0, 100).length > 0);
  assert.deepEqual(columns.missing(0, 2400, 6000), []);
});

test("the level is the coarsest that is no coarser than wanted", () => {
  for (const seconds of [0.001, 0.01, 0.011, 0.04, 0.05, 0.2, 3, 1e9]) {
    const level = levelFor(seconds);
    assert.ok(level === 0 || columnSeconds(level) <= seconds * (1 + 1e-9));
    assert.ok(level === 9 || columnSeconds(level + 1) > seconds);
  }
});
