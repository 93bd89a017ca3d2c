import assert from "node:assert/strict";
import test from "node:test";
import { fullScale, gridStep, gridText, RestScale } from "../../src/pullbench/web/static/scale.js";
import { pitch, sounding } from "../../src/pullbench/web/static/tone.js";
import { pictureUnit } from "../../src/pullbench/web/static/unit.js";
import { endOf, following, LEAST_SPAN_S, panned, zoomed } from "../../src/pullbench/web/static/view.js";

const LIVE = { span_s: 8, end_s: null };

test("looking closer at the pen goes on following it", () => assert.deepEqual(zoomed(LIVE, 2, 0.3, 100), { span_s: 4, end_s: null }));
test("panning back stops at the start of the day, and forward returns to the pen", () => {
  assert.equal(panned(LIVE, -1000, 100).end_s, 8);
  assert.equal(panned({ span_s: 8, end_s: 50 }, 60, 100).end_s, null);
  assert.equal(endOf(following({ span_s: 8, end_s: 50 }), 100), 100);
});
test("what is under the pointer stays there when looking closer", () => {
  const view = { span_s: 20, end_s: 60 };
  for (const share of [0, 0.25, 0.5, 1]) {
    const at = (v) => v.end_s - (1 - share) * v.span_s;
    assert.ok(Math.abs(at(zoomed(view, 3, share, 100)) - at(view)) < 1e-9);
  }
});
test("zoom has ends", () => assert.equal(zoomed(LIVE, 1e9, 0.5, 100).span_s, LEAST_SPAN_S));

test("the full scale leaves room above the pull, and not half the paper more than a step", () => {
  for (const largest of [0.02, 0.3, 1, 2.9, 3.4, 5, 7.7, 12, 99, 640]) {
    const full = fullScale(largest);
    assert.ok(full >= 1.2 * largest && full < 2.5 * largest, `${largest} on ${full}`);
  }
});
test("grid numbers are as far apart as asked, and have no needless digits", () => {
  for (const full of [0.5, 4, 6, 15, 800]) assert.ok((gridStep(full, 254, 44) / full) * 254 >= 44 - 1e-9);
  assert.equal(gridText(2, 1), "2");
  assert.equal(gridText(0.4, 0.2), "0.4");
  assert.equal(gridText(-1, 1), "\u22121");
  assert.equal(gridText(-0, 1), "0");
});
test("the scale does not change during a pull, and grows in the quiet after it", () => {
  const scale = new RestScale(4);
  assert.equal(scale.see(9, false, 1), false);
  assert.equal(scale.full_N, 4);
  assert.equal(scale.see(0, true, 2), true);
  assert.ok(scale.full_N >= 9 * 1.2);
});
test("the scale comes down only after five small pulls and once they have the paper to themselves", () => {
  const scale = new RestScale(4);
  scale.see(20, false, 0);
  scale.see(0, true, 1);
  scale.tell(18);
  const large = scale.full_N;
  for (const start of [10, 30, 50, 70, 90]) {
    scale.see(2, false, start);
    assert.equal(scale.see(0, true, start + 1), false);
    scale.tell(2);
    assert.equal(scale.full_N, large);
  }
  assert.equal(scale.see(0, true, 95), false);
  assert.equal(scale.see(0, true, 101), true);
  assert.equal(scale.full_N, fullScale(2));
});
test("noise, and a knock that is no pull, do not bring the scale down", () => {
  const scale = new RestScale(4);
  for (const at of [0, 20, 40, 60]) {
    scale.see(0.003, false, at);
    scale.see(0, true, at + 1);
  }
  scale.see(0, true, 80);
  assert.equal(scale.full_N, 4);
});

test("the tone rises one octave for every doubling of the force", () => {
  for (const force of [1, 1.7, 2]) assert.ok(Math.abs(pitch(2 * force, 4) / pitch(force, 4) - 2) < 1e-12);
});
test("the tone sounds while it slides only", () => {
  assert.deepEqual(["quiet", "loading", "breakaway", "settling", "sliding", "stick-slip", "let go"].filter(sounding), ["sliding", "stick-slip"]);
});

test("1280 by 720 and 1920 by 1080 are the same picture", () => {
  assert.deepEqual(pictureUnit(1280, 720), { u: 1, wide: true });
  assert.deepEqual(pictureUnit(1920, 1080), { u: 1.5, wide: true });
});
test("at 200 % zoom of a projector page words are as large again", () => {
  const { u, wide } = pictureUnit(640, 360); // in css pixels, each now two of the screen
  assert.deepEqual([2 * u, wide], [2, false]);
});
