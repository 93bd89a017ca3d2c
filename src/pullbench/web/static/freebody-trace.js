/** The pull above the free-body view: its line, textures under its stretches. Drawn once; only the flag moves. */
import { hang, line, paper } from "./ink.js";
import { fullScale } from "./scale.js";
import { valueAt } from "./steps.js";

const BASE = 0.88; // of the strip's height: 0 N
const TOP = 0.07; // the full scale
const NAMES = new Set(["loading", "settling", "sliding", "stick-slip"]);

/** @param {any} on prepared canvas @param {any} record of the forces */
export function drawForcesTrace({ c, width, height, u }, record) {
  const { time_s, pull, stages } = record;
  const pulls = time_s.map((_, i) => valueAt(pull, i) ?? 0);
  const full_N = fullScale(0.9 * Math.max(...pulls));
  const sheet = { c, width, height, u, full_N, sign: 1, base: BASE * height, top: TOP * height };
  const [from_s, to_s] = [time_s[0], time_s[time_s.length - 1]];
  const x = (s) => ((s - from_s) / (to_s - from_s)) * width;
  paper(sheet);
  const xy = new Float32Array(2 * time_s.length);
  time_s.forEach((s, i) => { xy[2 * i] = x(s); xy[2 * i + 1] = sheet.base - (pulls[i] / full_N) * (sheet.base - sheet.top); });
  const points = { xy, count: time_s.length };
  for (const stage of stages) if (NAMES.has(stage.name)) hang(sheet, points, stage.name, x(stage.from_s), x(stage.to_s));
  line(sheet, points, 4);
}

/** Where the pull's line lies at a moment, as a share of the strip's height. @param {any} record @param {number} i */
export function heightAt(record, i) {
  const full_N = fullScale(0.9 * Math.max(...record.pull.steps) * 10 ** -record.pull.decimals);
  return BASE - ((valueAt(record.pull, i) ?? 0) / full_N) * (BASE - TOP);
}
