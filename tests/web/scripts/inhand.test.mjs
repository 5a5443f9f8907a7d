import assert from "node:assert/strict";
import { test } from "node:test";
import { callToTake, following, mayComeBack, waitingCalls } from "../../../monreq/web/scripts/src/page/inhand.js";

/** Reads "!hurts kick (talk)": calls have an exclamation mark, what is set aside stands in brackets. */
function listed(text) {
  return text.split(" ").filter(Boolean).map((word) => {
    const isAside = word.startsWith("(");
    const bare = isAside ? word.slice(1, -1) : word;
    const isCall = bare.startsWith("!");
    const [id, ...more] = (isCall ? bare.slice(1) : bare).split("+");
    return { id, isCall, isAside, requests: [id, ...more] };
  });
}

for (const [name, rows, inHand, passed, expected] of [
  ["a call takes the hand from a row", "!talk kick", "kick", "", "talk"],
  ["a call takes the hand from one that is less urgent", "!hurts !talk kick", "talk", "", "hurts"],
  ["a call that is less urgent leaves the hand alone", "!hurts !talk kick", "hurts", "", undefined],
  ["a call that is passed leaves the row that was chosen in hand", "!hurts kick", "kick", "hurts", undefined],
  ["a new call brings the hand to the top one, passed or not", "!hurts !talk kick", "kick", "hurts", "hurts"],
  ["a call made again in a row that was passed is a new one", "!hurts+again kick", "kick", "hurts", "hurts"],
  ["a call that is set aside takes nothing", "kick (!talk)", "kick", "", undefined],
  ["it takes nothing from a row that stands aside below it either", "kick (!talk) (snare)", "snare", "", undefined],
  ["where nothing is in hand nothing is taken from it", "!hurts kick", "", "", undefined],
]) {
  test(name, () => {
    assert.equal(callToTake(listed(rows), inHand, new Set(passed.split(" ")))?.id, expected);
  });
}

for (const [name, rows, place, expected] of [
  ["after any row the top call comes", "!hurts !talk kick snare", 3, "hurts"],
  ["without calls the row comes that stands where the other was", "kick snare", 1, "snare"],
  ["after the last one the one before it", "kick snare", 2, "snare"],
  ["what is set aside does not come by itself", "kick (!talk) (snare)", 1, "kick"],
  ["where all is set aside nothing comes", "(kick)", 0, undefined],
]) {
  test(name, () => assert.equal(following(listed(rows), place)?.id, expected));
}

for (const [name, rows, id, expected] of [
  ["a raise that was taken back comes into hand", "kick snare", "snare", true],
  ["not while a call waits", "!talk kick snare", "snare", false],
  ["the top call comes back", "!hurts !talk kick", "hurts", true],
  ["another call does not", "!hurts !talk kick", "talk", false],
]) {
  test(name, () => assert.equal(mayComeBack(listed(rows), id), expected));
}

test("whatever arrives and is answered, no row comes into hand by itself while a call waits", () => {
  const kinds = ["hurts", "squeal", "nothing", "talk"];
  let seed = 11;
  const chance = (below) => (seed = (seed * 16807) % 2147483647) % below;
  let calls = [];
  let rows = "kick snare lead";
  let inHand = "kick";
  let answered = 0;

  for (let turn = 0; turn < 2000; turn++) {
    const waits = (kind) => calls.some((call) => call.startsWith(kind));
    const coming = kinds[chance(kinds.length)];
    if (chance(2) && !waits(coming)) calls.push(`${coming}${turn}`);
    else {
      calls = calls.filter((call) => call !== inHand);
      answered += 1;
      if (!rows.includes(inHand)) inHand = "";
    }
    calls.sort((one, other) => kinds.findIndex((kind) => one.startsWith(kind)) - kinds.findIndex((kind) => other.startsWith(kind)));
    const all = listed([...calls.map((call) => `!${call}`), rows].join(" "));

    inHand = (callToTake(all, inHand, new Set()) ?? all.find((row) => row.id === inHand) ?? following(all, 0)).id;

    assert.equal(inHand, (waitingCalls(all)[0] ?? all[0]).id);
  }
  assert.ok(answered > 100);
});
