import assert from "node:assert/strict";
import test from "node:test";
import { commandForKey, commandForWords } from "../../src/pullbench/web/static/commands.js";
import { countsOf, numbersOf } from "../../src/pullbench/web/static/hands.js";
import { meet } from "../../src/pullbench/web/static/ink.js";
import { paperOf } from "../../src/pullbench/web/static/law-picture.js";
import { sentencesOf } from "../../src/pullbench/web/static/law-parts.js";
import { firstGuess, own, rulerScale, set, slipFor, typedText } from "../../src/pullbench/web/static/own-slip.js";
import { routeOf } from "../../src/pullbench/web/static/routes.js";
import { changesOf, kgText, massIn, settingWords } from "../../src/pullbench/web/static/setting.js";
import { heaped, rulerFull, WIDE } from "../../src/pullbench/web/static/slip-heap.js";
import { after, START } from "../../src/pullbench/web/static/state.js";
import { angleIn, tiltIn } from "../../src/pullbench/web/static/typed-tilt.js";

const felt = { load_kg: 1, sled_kg: 0.35, surface: "felt", step_kg: 0.5, pulls_per_step: 3 };

test("a setting is told as load on surface, or as much of it as was said", () => {
  assert.equal(settingWords(felt), "1.0 kg on felt");
  assert.equal(settingWords({ ...felt, surface: "" }), "1.0 kg");
  assert.equal(settingWords({ ...felt, load_kg: null }), "on felt");
  assert.equal(settingWords({ ...felt, load_kg: 0 }), "0.0 kg on felt"); // an empty sled is a load too
  for (const nothing of [null, undefined, { load_kg: null, sled_kg: null, surface: "" }]) assert.equal(settingWords(nothing), "");
});
test("a load is written to the gram and no finer", () => assert.deepEqual([kgText(0.35), kgText(2), kgText(1.2345)], ["0.35 kg", "2.0 kg", "1.234 kg"]));
test("a mass is typed in kilograms, or in grams with their unit, with point or comma", () => {
  for (const [typed, kg] of [["1.5", 1.5], ["1,5 kg", 1.5], ["350 g", 0.35], ["350g", 0.35], [" 0 ", 0], [".5", 0.5], ["2KG", 2]]) assert.equal(massIn(typed), kg, typed);
  for (const typed of ["", "kg", "-1", "1 lb", "1.2.3", "one", "1 2", "NaN", "1e3"]) assert.equal(massIn(typed), null, typed);
});
test("only what was changed is sent, and what is no mass is named", () => {
  assert.deepEqual(changesOf({ load: "1.5", sled: "0.35", surface: "birch" }, felt), { body: { load_kg: 1.5, surface: "birch" }, wrong: null });
  assert.deepEqual(changesOf({ load: "1.5 lb", surface: "birch" }, felt), { body: {}, wrong: "1.5 lb" });
  assert.deepEqual(changesOf({ pulls: "0" }, felt), { body: {}, wrong: "0" });
  assert.deepEqual(changesOf({ pulls: "4", step: "250 g" }, felt).body, { pulls_per_step: 4, step_kg: 0.25 });
  assert.deepEqual(changesOf({}, null).body, {});
});

test("the words of the protocol are commands", () => {
  for (const [typed, id, rest] of [
    ["next load", "nextLoad", ""], ["load 1.5", "load", "1.5"], ["sled 0.35", "sled", "0.35"], ["surface felt", "surface", "felt"],
    ["draw the line", "ladder", ""], ["compare", "compare", ""], ["tilt 17.5 slid", "tilt", "17.5 slid"], ["predict 2.8", "predict", "2.8"],
    ["commit predictions", "commit", ""], ["reveal", "reveal", ""], ["load ladder", "ladder", ""], ["surface pairs", "surfaces", ""],
  ]) assert.deepEqual(commandForWords(typed), { id, rest }, typed);
});
test("the clicker goes on from question to commit and reveal only on the prediction slip", () => {
  assert.equal(commandForKey({ key: "PageDown" }, "prediction").id, "onward");
  for (const screen of ["bench", "ladder", "pull", "slip"]) assert.equal(commandForKey({ key: "PageDown" }, screen).id, "next");
});
test("each law has its address", () => { for (const screen of ["ladder", "surfaces", "tilt", "prediction", "slip"]) assert.equal(routeOf(`#${screen}`).screen, screen); });

test("a setting, a prediction and tilts come with the greeting and change with their messages", () => {
  const hello = { kind: "hello", role: "teacher", pulls: [], setting: felt, prediction: null, tilt: [{ kind: "slid", angle_deg: 17 }] };
  const greeted = after(START, hello);
  assert.deepEqual([greeted.setting, greeted.prediction, greeted.tilt.length], [felt, null, 1]);
  const asked = after(greeted, { kind: "prediction", prediction: { state: "open", count: 0 } });
  assert.equal(asked.prediction.state, "open");
  assert.equal(after(asked, { kind: "prediction", prediction: null }).prediction, null);
  assert.equal(after(asked, { kind: "setting", setting: { ...felt, load_kg: 1.5 } }).setting.load_kg, 1.5);
  assert.deepEqual(after(asked, { kind: "tilt", tilt: [] }).tilt, []);
});
test("a bench that knows nothing of laws is greeted all the same", () => assert.deepEqual([after(START, { kind: "hello", pulls: [] }).setting, after(START, { kind: "hello", pulls: [] }).tilt], [null, []]));

test("a tilt is typed with what the sled did", () => {
  assert.deepEqual(tiltIn("17.5 slid"), { kind: "slid", angle_deg: 17.5 });
  assert.deepEqual(tiltIn("held 16,4"), { kind: "held", angle_deg: 16.4 });
  assert.deepEqual(tiltIn("20 slide 0.52"), { kind: "slide", angle_deg: 20, acceleration_m_s2: 0.52 });
  for (const typed of ["17.5", "slid", "17 18 slid", "20 slide", ""]) assert.equal(tiltIn(typed), null, typed);
});
test("an angle is a plain number of degrees", () => {
  assert.deepEqual([angleIn("17,5"), angleIn(" 16\u00b0"), angleIn("16 degrees"), angleIn("0")], [17.5, 16, 16, 0]);
  for (const typed of ["", "-3", "steep", "16 17"]) assert.equal(angleIn(typed), null, typed);
});

test("a show of hands is numbers, or counts of the words that were offered", () => {
  assert.deepEqual(numbersOf("2.5 3 3,2"), { values: [2.5, 3, 3.2] });
  assert.deepEqual(numbersOf("2.5, 3"), { values: [2.5, 3] });
  for (const typed of ["", "2.5 three", "-1"]) assert.equal(numbersOf(typed), null, typed);
  assert.deepEqual(countsOf({ felt: "12", "the same": "5" }, ["felt", "birch", "the same"]), { felt: 12, "the same": 5 });
  for (const typed of [{}, { felt: "many" }, { felt: "-1" }]) assert.equal(countsOf(typed, ["felt", "birch"]), null);
});

test("a pupil's ruler holds more than was seen, and its marks stay on it", () => {
  for (const heights of [[], [0.4], [3.1, 2.9], [42]]) {
    const scale = rulerScale(heights);
    if (heights.length) assert.ok(scale.full_N >= 1.5 * Math.max(...heights) && scale.full_N <= 4 * Math.max(...heights));
    const high = set(scale, firstGuess(scale), { value_N: 1e9 });
    assert.equal(high.value_N, scale.full_N);
    assert.ok(set(scale, high, { plus_minus_N: -5 }).plus_minus_N > 0); // a guess is never bare
    assert.equal(set(scale, high, { value_N: -3 }).value_N, 0);
    assert.equal(Number(typedText(scale, high.value_N)), high.value_N); // what is written is what is handed in
  }
});
test("a mark moves in steps that its text can show", () => {
  const scale = rulerScale([3.1]);
  const guess = firstGuess(scale);
  const moved = set(scale, guess, { value_N: guess.value_N + scale.step_N });
  assert.notEqual(typedText(scale, moved.value_N), typedText(scale, guess.value_N));
});
test("one question has one token, the next another, and it names nobody", () => {
  const first = slipFor("how hard?", true).token;
  assert.match(first, /^[0-9a-f]{32}$/);
  assert.equal(slipFor("how hard?", true).token, first);
  Object.assign(own, { handed: true });
  assert.notEqual(slipFor("which?", true).token, first);
  assert.equal(own.handed, false);
});

test("no two slips of a class lie on one another, and none is lost", () => {
  for (const count of [1, 12, 60, 300]) {
    const slips = Array.from({ length: count }, (_, i) => ({ value_N: 2 + ((i * 37) % 20) / 10, plus_minus_N: 0.3 }));
    const { laid, width, height } = heaped(slips, rulerFull(slips, []), 220);
    assert.equal(laid.length, count);
    for (const [i, a] of laid.entries()) for (const b of laid.slice(i + 1)) assert.ok(a.level !== b.level || Math.abs(a.x - b.x) >= width);
    if (count <= 60) assert.ok((1 + Math.max(...laid.map((s) => s.level))) * height <= 220 + 1e-9);
  }
});
test("a slip lies where its number is on the ruler, its plus or minus to both sides", () => {
  const { laid } = heaped([{ value_N: 2, plus_minus_N: 0.5 }], 4, 200);
  assert.deepEqual([laid[0].x, laid[0].half], [WIDE / 2, WIDE / 8]);
});
test("the ruler holds every slip and the outcome", () => assert.ok(rulerFull([{ value_N: 2, plus_minus_N: null }], [9.5]) >= 9.5));

const PAPER = '<rect fill="#fff" width="1280" height="720"/><rect fill="#FBF5E7" x="0" y="66" width="1280" height="440"/>';
const POINT = '<a href="#pull/3" data-pull="3"><title>Pull 3</title><circle/></a>';
const DRAWN = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1280 720" role="img"><title>T</title><desc>D</desc><style>@font-face{}</style>${PAPER}${POINT}</svg>\n`;
test("of a whole drawing only its sheet of paper is shown", () => {
  assert.equal(paperOf(DRAWN).box, "0 66 1280 440");
  assert.equal(paperOf(DRAWN, { top: 4, foot: 3 }).box, "0 70 1280 433");
});
test("its own fonts, title and description are left out, those of its points are kept", () => assert.equal(paperOf(DRAWN).inside, PAPER + POINT));
test("a drawing without a sheet of paper is shown whole", () => assert.equal(paperOf('<svg viewBox="0 0 600 200"><path/></svg>').box, "0 0 600 200"));
test("what is no drawing is not shown", () => assert.equal(paperOf("nothing"), null));

test("words are parted into sentences, not at a decimal point", () => {
  assert.deepEqual(sentencesOf("It is 0.05: a \u2212 b = 0.023 \u00b1 0.008. To keep going, more. felt is harder."), ["It is 0.05: a \u2212 b = 0.023 \u00b1 0.008.", "To keep going, more.", "felt is harder."]);
});
test("two words meet when their boxes share paper, not when they touch", () => {
  const box = { left: 0, right: 10, top: 0, foot: 10 };
  assert.equal(meet(box, { left: 9, right: 20, top: 9, foot: 20 }), true);
  assert.equal(meet(box, { left: 10, right: 20, top: 0, foot: 10 }), false);
});
