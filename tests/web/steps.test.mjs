/** Whole steps that travel, and the digits the page writes of them. */
import assert from "node:assert/strict";
import test from "node:test";
import { amountAt, textAt, valueAt } from "../../src/pullbench/web/static/steps.js";

const column = { steps: [246, null, -3, 0], decimals: 2, plus_minus: "0.02" };

test("a step is written with the decimals it was rounded to, a true minus and no minus before nought", () => {
  assert.deepEqual([0, 1, 2, 3].map((i) => textAt(column, i)), ["2.46", null, "\u22120.03", "0.00"]);
  assert.equal(textAt(column, 2, true), "0.03");
});

test("a value carries its unit and its plus or minus, and nothing where it cannot be told", () => {
  assert.equal(amountAt(column, 0, "N"), "2.46 N ± 0.02");
  assert.equal(amountAt(column, 1, "N"), null);
  assert.equal(amountAt({ ...column, plus_minus: null }, 0, "N"), "2.46 N");
});

test("a column that can nowhere be told has no value anywhere", () => {
  assert.equal(valueAt({ steps: null, decimals: 0, plus_minus: null }, 0), null);
});
