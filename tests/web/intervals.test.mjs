import assert from "node:assert/strict";
import test from "node:test";
import { missing, withoutStretch, withStretch } from "../../src/pullbench/web/static/intervals.js";

test("stretches that touch become one", () => assert.deepEqual(withStretch([[0, 1], [2, 3]], 1, 2), [[0, 3]]));
test("stretches nearer than the join become one, others stay apart", () => {
  assert.deepEqual(withStretch([[0, 1]], 1.05, 2, 0.1), [[0, 2]]);
  assert.deepEqual(withStretch([[0, 1]], 1.2, 2, 0.1), [[0, 1], [1.2, 2]]);
});
test("an empty stretch changes nothing", () => assert.deepEqual(withStretch([[0, 1]], 5, 5), [[0, 1]]));
test("cutting out of the middle leaves both ends", () => assert.deepEqual(withoutStretch([[0, 10]], 4, 6), [[0, 4], [6, 10]]));
test("what is missing is what no stretch holds", () => {
  assert.deepEqual(missing([[1, 2], [3, 4]], 0, 5), [[0, 1], [2, 3], [4, 5]]);
  assert.deepEqual(missing([[0, 9]], 2, 5), []);
});

test("any order of stretches covers the same moments", () => {
  // Independent account: a moment is covered when some stretch added last covers it.
  let seed = 7;
  const random = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
  for (let round = 0; round < 200; round += 1) {
    let kept = [];
    const grid = new Array(60).fill(false);
    for (let k = 0; k < 8; k += 1) {
      const [a, b] = [Math.floor(random() * 60), Math.floor(random() * 60)].sort((p, q) => p - q);
      const add = random() < 0.7;
      kept = add ? withStretch(kept, a, b) : withoutStretch(kept, a, b);
      for (let i = a; i < b; i += 1) grid[i] = add;
    }
    grid.forEach((covered, i) => assert.equal(kept.some(([a, b]) => a <= i && i + 1 <= b), covered, `round ${round}, ${i}`));
  }
});
