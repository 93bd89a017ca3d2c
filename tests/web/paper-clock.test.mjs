import assert from "node:assert/strict";
import test from "node:test";
import { PaperClock } from "../../src/pullbench/web/static/paper-clock.js";

/** Frames every `every` seconds with jitter, pictures at 60 a second. Returns the clock's steps after settling. */
function run({ pace = 1, every = 0.033, jitter = 0.02, seconds = 10 }) {
  const clock = new PaperClock();
  const steps = [];
  let [next, at, seed] = [0, NaN, 3];
  for (let wall = 0; wall < seconds; wall += 1 / 60) {
    while (next <= wall) {
      clock.see(wall, 100 + pace * next);
      seed = (seed * 48271) % 2147483647;
      next += every * (1 - jitter / 2) + jitter * (seed / 2147483647) * every * 2;
    }
    const now = clock.now(wall);
    if (wall > 4) steps.push(now - at);
    at = now;
  }
  return { clock, steps, newest: 100 + pace * next };
}

test("the paper moves steadily although frames come in bursts", () => {
  const { steps } = run({ every: 0.05 });
  for (const step of steps) assert.ok(step > 0.5 / 60 && step < 1.5 / 60, `a step of ${step} s`);
});

test("a replay at ten times the pace is followed at its pace", () => {
  const { steps } = run({ pace: 10 });
  const mean = steps.reduce((a, b) => a + b) / steps.length;
  assert.ok(Math.abs(mean * 60 - 10) < 0.3);
});

test("the paper never moves backwards and never past the newest sample", () => {
  const clock = new PaperClock();
  let last = -Infinity;
  for (let i = 0; i < 600; i += 1) {
    const wall = i / 60;
    const end = 50 + Math.floor(wall * 4) / 4; // a frame every quarter of a second
    if (i % 15 === 0) clock.see(wall, end);
    const now = clock.now(wall);
    assert.ok(now >= last && now <= end + 1e-9);
    last = now;
  }
});

test("when samples stop, the paper stops at the newest", () => {
  const { clock } = run({});
  const newest = clock.seen.at(-1).end_s;
  let now;
  for (let wall = 10; wall < 14; wall += 1 / 60) now = clock.now(wall);
  assert.ok(Math.abs(now - newest) < 1e-6);
});

test("a new recording far ahead is gone to at once", () => {
  const { clock } = run({});
  clock.see(10.1, 5000);
  assert.ok(clock.now(10.1) > 4990);
});

test("before the first sample there is no time", () => assert.ok(Number.isNaN(new PaperClock().now(3))));
