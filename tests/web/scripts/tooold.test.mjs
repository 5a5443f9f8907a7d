import assert from "node:assert/strict";
import { test } from "node:test";
import { createStore } from "../../../monreq/web/scripts/src/page/store.js";
import { isWaiting, leftOver, outboxName, waitingElsewhere } from "../../../monreq/web/scripts/src/page/tooold.js";

const OLD_MS = 120_000;

function page(mark, path = "/desk") {
  return { action: `http://192.0.2.7:8330${path}`, dataset: { live: path === "/desk" ? "/desk" : "/phone" }, elements: { namedItem: () => ({ value: mark }) } };
}

function storeWith(content) {
  const kept = Object.fromEntries(Object.entries(content).map(([name, items]) => [name, JSON.stringify(items)]));
  const storage = new Proxy(kept, {
    get: (all, name) => ({ getItem: (key) => all[key] ?? null, setItem: (key, value) => (all[key] = value) })[name],
  });
  return createStore(() => storage);
}

function pressed(said, ageMs) {
  return { client_id: said, at: Date.now() - ageMs, said, fields: [] };
}

test("an outbox is its show's own, and another after a restoring", () => {
  const names = [page("frid.0"), page("satu.0"), page("frid.k3x9"), page("frid.0", "/mix/front?show=frid")].map(outboxName);

  assert.deepEqual(names, [
    "monreq:outbox:/desk:frid.0",
    "monreq:outbox:/desk:satu.0",
    "monreq:outbox:/desk:frid.k3x9",
    "monreq:outbox:/mix/front:frid.0",
  ]);
});

test("what is left of another show is told once, and forgotten", () => {
  const store = storeWith({ "monreq:outbox:/desk:frid.0": [pressed("Bass, Kick, done", OLD_MS + 1)] });

  const told = leftOver(page("satu.0"), store, OLD_MS);

  assert.match(told, /another show.*: Bass, Kick, done/);
  assert.equal(leftOver(page("satu.0"), store, OLD_MS), "");
});

test("what was left before outboxes named their show is told too", () => {
  const store = storeWith({ "monreq:outbox:/desk": [{ client_id: "a", until: null, fields: [["do", "done:row-bass-kick-level"]] }] });

  assert.match(leftOver(page("satu.0"), store, OLD_MS), /done:row-bass-kick-level/);
});

test("what another tab at another show pressed just now is left alone, and so is this page's own", () => {
  const store = storeWith({
    "monreq:outbox:/desk:frid.0": [pressed("now", 1000)],
    "monreq:outbox:/desk:satu.0": [pressed("own", OLD_MS + 1)],
    "monreq:outbox:/mix/front:frid.0": [pressed("a phone's", OLD_MS + 1)],
  });

  assert.equal(leftOver(page("satu.0"), store, OLD_MS), "");
  assert.equal(store.read("monreq:outbox:/desk:frid.0").length, 1);
});

test("what a phone asked before a restoring goes out after it, and what names a number is told", () => {
  const asked = (button, said) => ({ client_id: said, at: Date.now(), said, fields: [["show", "frid.0"], ["do", button]] });
  const store = storeWith({ "monreq:outbox:/mix/front:frid.0": [asked("more:voice", "more Voice"), asked("withdraw:r9", "take back")] });

  const told = leftOver(page("frid.k3x9", "/mix/front"), store, OLD_MS);

  assert.match(told, /: take back\.$/);
  const [item, ...more] = store.read("monreq:outbox:/mix/front:frid.k3x9");
  assert.deepEqual([item.client_id, item.fields[0], more], ["more Voice", ["show", "frid.k3x9"], []]);
  assert.deepEqual(store.read("monreq:outbox:/mix/front:frid.0"), []);
});

test("what a desk answered before a restoring is told, however new", () => {
  const store = storeWith({ "monreq:outbox:/desk:frid.0": [pressed("Bass, Kick, done", 1000)] });

  assert.match(leftOver(page("frid.k3x9"), store, OLD_MS), /before it was restored: Bass, Kick, done/);
});

test("what waits for another show is known at once, and what is of this page or of a phone is not among it", () => {
  const store = storeWith({
    "monreq:outbox:/desk:frid.0": [pressed("Bass, Kick, done", 1000)],
    "monreq:outbox:/desk:satu.0": [pressed("own", 1000)],
    "monreq:outbox:/mix/front:frid.0": [pressed("a phone's", 1000)],
  });

  assert.deepEqual(waitingElsewhere(page("satu.0"), store).map((item) => item.said), ["Bass, Kick, done"]);
});

test("an answer waits as long as each of its requests stands on the page, and what answers none may always be sent", () => {
  const form = { elements: [{ name: "row-bass-kick-level-requests", value: "r7 r9" }, { value: "" }] };
  const answer = (requests) => ({ fields: [["row-bass-kick-level-requests", requests], ["do", "done:row-bass-kick-level"]] });

  assert.deepEqual(["r7 r9", "r9", "r7 r8", "r8"].map((requests) => isWaiting(form, answer(requests))), [true, true, false, false]);
  assert.equal(isWaiting(form, { fields: [["do", "mark:"]] }), true);
});
