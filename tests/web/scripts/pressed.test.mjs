import assert from "node:assert/strict";
import { test } from "node:test";
import { isShortcut, keyOf } from "../../../monreq/web/scripts/src/page/pressed.js";

for (const [event, key] of [
  [{ key: "s", code: "KeyS" }, "s"],
  [{ key: "S", code: "KeyS", shiftKey: true }, "s"],
  [{ key: "a", code: "KeyQ" }, "a"], // a French keyboard: what is printed counts
  [{ key: "س", code: "KeyS" }, "s"],
  [{ key: "ы", code: "KeyS" }, "s"],
  [{ key: "と", code: "KeyS" }, "s"],
  [{ key: "Process", code: "KeyG" }, "g"],
  [{ key: "٣", code: "Digit3" }, "3"],
  [{ key: "٣", code: "Numpad3" }, "3"],
  [{ key: "و", code: "Comma" }, ","],
  [{ key: "؟", code: "Slash", shiftKey: true }, "?"],
  [{ key: "\u2212", code: "Minus" }, "\u2212"],
  [{ key: "Enter", code: "Enter" }, "Enter"],
  [{ key: "ArrowUp", code: "ArrowUp" }, "ArrowUp"],
  [{ key: "Dead", code: "BracketLeft" }, "Dead"],
]) {
  test(`${event.key} at ${event.code} is ${key}`, () => assert.equal(keyOf(event), key));
}

test("keys with a modifier are the browser's, but for an @ that needs one", () => {
  const event = { key: "s", ctrlKey: false, altKey: false, metaKey: false };

  assert.equal(isShortcut(event), false);
  for (const modifier of ["ctrlKey", "altKey", "metaKey"]) assert.ok(isShortcut({ ...event, [modifier]: true }));
  assert.equal(isShortcut({ ...event, key: "@", ctrlKey: true, altKey: true }), false);
});
