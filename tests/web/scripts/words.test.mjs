import assert from "node:assert/strict";
import { mock, test } from "node:test";
import { ageText } from "../../../monreq/web/scripts/src/page/ages.js";
import { freshId } from "../../../monreq/web/scripts/src/page/clientid.js";
import { Line } from "../../../monreq/web/scripts/src/page/line.js";

for (const [seconds, text] of [
  [-5, "now"],
  [0, "now"],
  [59, "now"],
  [60, "1 min"],
  [12 * 60 + 30, "12 min"],
  [3600, "1 h 0 min"],
  [2 * 3600 + 5 * 60, "2 h 5 min"],
]) {
  test(`an age of ${seconds} s reads ${text}`, () => assert.equal(ageText(seconds * 1000), text));
}

test("ids are what forms accept, and no two are alike", () => {
  const ids = Array.from({ length: 1000 }, freshId);

  assert.equal(new Set(ids).size, 1000);
  assert.ok(ids.every((id) => /^[A-Za-z0-9_-]{22}$/.test(id)));
});

function lineWith(run) {
  mock.timers.enable({ apis: ["setTimeout"] });
  const element = { textContent: "", dataset: {} };
  run(new Line(element, "no contact with the desk"), element);
  mock.timers.reset();
}

test("the line says nothing while a page loads, then that there is no contact", () => {
  lineWith((line, element) => {
    line.set("reconnecting");
    const first = element.textContent;
    mock.timers.tick(8000);

    assert.deepEqual([first, element.textContent], ["", "no contact with the desk"]);
  });
});

test("the line says reconnecting before it says that contact is lost, with what waits", () => {
  lineWith((line, element) => {
    line.set("live");
    line.set("reconnecting");
    line.setToSend(2, true);
    const first = element.textContent;
    mock.timers.tick(8000);
    line.set("reconnecting");

    assert.deepEqual([first, element.textContent], ["reconnecting: 2 to send", "no contact with the desk: 2 to send"]);
  });
});

test("the line counts nothing while all is well, but counts what is held up", () => {
  lineWith((line, element) => {
    line.set("live");
    line.setToSend(1, false);
    const first = element.textContent;
    line.setToSend(1, true);

    assert.deepEqual([first, element.textContent], ["live", "live: 1 to send"]);
  });
});

test("the line keeps live for good once contact is back", () => {
  lineWith((line, element) => {
    line.set("live");
    line.set("reconnecting");
    line.set("live");
    mock.timers.tick(60000);

    assert.equal(element.textContent, "live");
  });
});
