import assert from "node:assert/strict";
import { afterEach, beforeEach, mock, test } from "node:test";
import { Settling } from "../../../monreq/web/scripts/src/page/settling.js";

let nowMs = 0;
let settling;

beforeEach(() => {
  nowMs = 5000;
  mock.method(performance, "now", () => nowMs);
  mock.method(globalThis, "setTimeout", () => 0);
  settling = new Settling();
});

afterEach(() => mock.restoreAll());

for (const [name, isCall, lastMs] of [
  ["a row", false, 699],
  ["a call", true, 999],
]) {
  test(`keys are held off from ${name} that came into hand by itself, and no longer`, () => {
    settling.begin(isCall);

    nowMs += lastMs;
    assert.ok(settling.isOn);
    nowMs += 1;
    assert.ok(!settling.isOn);
  });
}

test("what changes meanwhile never shortens it", () => {
  settling.begin(true);
  nowMs += 100;
  settling.begin();

  nowMs += 800;

  assert.ok(settling.isOn);
});
