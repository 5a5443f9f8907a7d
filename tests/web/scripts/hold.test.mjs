import assert from "node:assert/strict";
import { test } from "node:test";
import { held } from "../../../monreq/web/scripts/src/page/hold.js";

/** Reads "A: a1 a2 | B: b1" as a list: a head, its rows, the line; calls have an exclamation mark. */
function listed(text) {
  let mix = "";
  let isLater = false;
  return text.split(" ").map((word) => {
    const kind = word === "|" ? "line" : word.endsWith(":") ? "head" : "row";
    isLater ||= kind === "line";
    if (kind === "head") mix = word.slice(0, -1);
    return { id: word, kind, mix: kind === "line" ? "" : word.startsWith("!") ? word : mix, isUrgent: word.startsWith("!"), isLater };
  });
}

const told = (items) => items.map((item) => item.id).join(" ");

for (const [name, shown, drawn, inHand, expected] of [
  ["nothing in hand stands as pushed", "A: a1 B: b1", "B: b1 A: a1", "", "B: b1 A: a1"],
  ["the row in hand that is gone frees the order", "A: a1 B: b1", "B: b1", "a1", "B: b1"],
  ["the row in hand stays first", "A: a1 B: b1", "B: b1 A: a1", "a1", "A: a1 B: b1"],
  ["what stands above the row in hand stays", "A: a1 a2 B: b1", "B: b1 A: a2 a1", "a2", "A: a1 a2 B: b1"],
  ["a new row comes below", "A: a1 B: b1", "C: c1 A: a1 B: b1", "a1", "A: a1 C: c1 B: b1"],
  ["below, the pushed order holds", "A: a1 B: b1 C: c1", "C: c1 A: a1 B: b1", "a1", "A: a1 C: c1 B: b1"],
  ["a row above that was answered elsewhere goes", "A: a1 a2 B: b1", "A: a2 B: b1", "a2", "A: a2 B: b1"],
  ["a head that is left without rows goes", "A: a1 B: b1 C: c1", "B: b1 C: c1", "b1", "B: b1 C: c1"],
  ["a call comes first at once", "A: a1 B: b1", "!c A: a1 B: b1", "b1", "!c A: a1 B: b1"],
  ["a call of lower rank comes below the one in hand", "!h A: a1", "!h !t A: a1", "!h", "!h !t A: a1"],
  ["a call of lower rank comes below one above the row in hand", "!h A: a1 B: b1", "!h !t A: a1 B: b1", "b1", "!h !t A: a1 B: b1"],
  ["calls that come one by one stand as pushed", "!h !n !t A: a1", "!h !s !n !t A: a1", "!t", "!h !s !n !t A: a1"],
  ["a call that grew more urgent stands as pushed", "!n !t A: a1", "!t !n A: a1", "!n", "!t !n A: a1"],
  ["a call that was answered elsewhere goes", "!h !t A: a1", "!t A: a1", "a1", "!t A: a1"],
  ["a parted mix gets its head again", "A: a1 B: b1", "B: b1 A: a1 a2", "a1", "A: a1 B: b1 again-a2 a2"],
  ["more of the mix in hand needs no other head", "A: a1 B: b1", "A: a1 a2 B: b1", "a1", "A: a1 a2 B: b1"],
  ["the line stands before what does not fit", "A: a1 B: b1", "A: a1 | B: b1", "a1", "A: a1 | B: b1"],
  ["the line never comes above the row in hand", "A: a1 B: b1", "| A: a1 B: b1", "a1", "A: a1 | B: b1"],
  ["a line above the row in hand stays", "A: a1 | B: b1 b2", "| A: a1 B: b2 b1", "b1", "A: a1 | B: b1 b2"],
]) {
  test(name, () => assert.equal(told(held(listed(shown), listed(drawn), inHand)), expected));
}

test("whatever is pushed, nothing at or above the row in hand moves and nothing is lost or doubled", () => {
  const rows = ["a1", "a2", "b1", "b2", "c1", "c2"];
  let seed = 7;
  const chance = (below) => (seed = (seed * 16807) % 2147483647) % below;
  const shuffled = () => rows.map((row) => [chance(1000), row]).sort(([one], [other]) => one - other).map(([, row]) => row);
  const headed = (order) =>
    order.flatMap((row, place) => (order[place - 1]?.[0] === row[0] ? [row] : [`${row[0].toUpperCase()}:`, row])).join(" ");

  for (let turn = 0; turn < 500; turn++) {
    const shown = shuffled();
    const inHand = shown[chance(rows.length)];

    const result = held(listed(headed(shown)), listed(headed(shuffled())), inHand).filter((item) => item.kind === "row");

    const above = shown.slice(0, shown.indexOf(inHand) + 1);
    assert.deepEqual(result.slice(0, above.length).map((item) => item.id), above);
    assert.deepEqual(result.map((item) => item.id).sort(), rows);
  }
});
