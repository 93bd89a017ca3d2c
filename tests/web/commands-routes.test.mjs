import assert from "node:assert/strict";
import test from "node:test";
import { COMMANDS, commandForKey, commandForWords, numbersIn, suggestions } from "../../src/pullbench/web/static/commands.js";
import { keysOf, pullHash, routeOf } from "../../src/pullbench/web/static/routes.js";
import { words } from "../../src/pullbench/web/static/words.js";

test("every command has its words, and every wording says one command", () => {
  assert.deepEqual(COMMANDS.map((c) => c.id).sort(), Object.keys(words.commands).sort());
  const all = Object.values(words.commands).flatMap((c) => c.words);
  assert.equal(new Set(all).size, all.length);
  for (const { id } of COMMANDS) for (const wording of words.commands[id].words) assert.equal(commandForWords(wording).id, id);
});
test("no key means two things on one screen", () => {
  for (const where of ["strip", "sheet"]) {
    const keys = COMMANDS.filter((c) => c.where === "all" || c.where === where).flatMap((c) => c.keys);
    assert.equal(new Set(keys).size, keys.length);
  }
});
test("pulls are held up by number, by word and by key", () => {
  assert.deepEqual(commandForWords("/hold up pull 7"), { id: "hold", rest: "7" });
  assert.deepEqual(commandForWords("Hold  up 12"), { id: "hold", rest: "12" });
  assert.deepEqual(commandForKey({ key: "7" }, "bench"), { id: "hold", rest: "7" });
});
test("a reason follows the command as it was typed, in small letters", () => assert.deepEqual(commandForWords("set aside Jerked again"), { id: "aside", rest: "jerked again" }));
test("what nobody can mean is no command", () => {
  for (const text of ["", "hol", "benches", "standdown"]) assert.equal(commandForWords(text), null);
});
test("a presenter's clicker works on every screen, also when letters are no commands", () => {
  for (const screen of ["bench", "pull", "logbook"]) {
    assert.equal(commandForKey({ key: "PageDown" }, screen, false).id, "next");
    assert.equal(commandForKey({ key: "PageUp" }, screen, false).id, "previous");
    assert.equal(commandForKey({ key: "F5" }, screen, false).id, "full");
    assert.equal(commandForKey({ key: "t" }, screen, false), null);
  }
});
test("the browser keeps its own shortcuts", () => assert.equal(commandForKey({ key: "f", ctrlKey: true }, "bench"), null));
test("arrow keys belong to the strip only where there is one", () => {
  assert.equal(commandForKey({ key: "ArrowLeft" }, "bench").id, "earlier");
  assert.equal(commandForKey({ key: "ArrowLeft" }, "logbook"), null);
});
test("suggestions begin as was typed", () => assert.ok(suggestions("b", "pull").includes("bring back") && !suggestions("b", "bench").includes("bring back")));
test("numbers are found in any wording", () => assert.deepEqual(numbersIn("7 and 9+11"), [7, 9, 11]));

test("hashes lead to screens, and unknown ones to the bench", () => {
  assert.deepEqual(routeOf("#pull/7+9"), { screen: "pull", pulls: [7, 9], day: null });
  assert.deepEqual(routeOf("#pull/2026-11-24/7"), { screen: "pull", pulls: [7], day: "2026-11-24" });
  assert.deepEqual(routeOf("#logbook/2026-11-24"), { screen: "logbook", pulls: [], day: "2026-11-24" });
  for (const hash of ["", "#", "#pull", "#pull/x", "#pull/-1", "#nothing", "#key=abc"]) assert.equal(routeOf(hash).screen, "bench");
});
test("a hash made from pulls leads back to them", () => {
  for (const [pulls, day] of [[[3], null], [[3, 8], "2026-01-31"]]) assert.deepEqual(routeOf(pullHash(pulls, day)), { screen: "pull", pulls, day });
});
test("the teacher key and the join code are found in the address", () => {
  assert.deepEqual(keysOf("#key=a%2Bb"), { key: "a+b" });
  assert.deepEqual(keysOf("#code=K4T7"), { code: "K4T7" });
  assert.deepEqual(keysOf("#bench"), {});
});
