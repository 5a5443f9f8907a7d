import assert from "node:assert/strict";
import { test } from "node:test";
import { createStore } from "../../../monreq/web/scripts/src/page/store.js";
import { leftOver, outboxName } from "../../../monreq/web/scripts/src/page/tooold.js";

const OLD_MS = 120_000;

function page(mark, path = "/desk") {
  return { action: `http://192.0.2.7:8330${path}`, elements: { namedItem: () => ({ value: mark }) } };
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

  assert.match(told, /another show: Bass, Kick, done/);
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
