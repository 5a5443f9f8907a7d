import assert from "node:assert/strict";
import { test } from "node:test";
import { Outbox } from "../../../monreq/web/scripts/src/page/outbox.js";
import { isTakenBack, TakingBack } from "../../../monreq/web/scripts/src/page/takingback.js";

const TAKEN = { verdict: "taken", revision: 8 };
const LATER = { verdict: "later" };

const settled = () => new Promise((resolve) => setImmediate(resolve));

/** A desk whose server answers when the test says so, and what it is told. */
function desk() {
  const stored = new Map();
  const seen = { sent: [], told: [], back: [], shown: 7, now: 0, time: 0 };
  const waiting = [];
  const outbox = new Outbox({
    store: { read: (name) => stored.get(name) ?? null, write: (name, value) => stored.set(name, value) },
    name: "outbox",
    oldMs: 1000,
    send: (item) => {
      seen.sent.push(item.fields.map((field) => field.join("=")).join(" "));
      return new Promise((resolve) => waiting.push(resolve));
    },
    onAnswer: (item, answer) => takingBack.answered(item, answer),
    onChange: () => {},
    later: () => {},
    chance: () => 1,
    now: () => seen.time,
    counted: () => 0,
  });
  const takingBack = new TakingBack({
    outbox,
    revision: () => seen.shown,
    tell: (message) => seen.told.push(message),
    onBack: (item, isGone) => seen.back.push([item.client_id, isGone]),
    counted: () => seen.now,
  });
  return {
    outbox,
    seen,
    answer: (id, button = `done:row-${id}`) => outbox.add({ client_id: id, said: id, fields: [["do", button]] }),
    undo: () => takingBack.press(),
    undoLater: () => {
      seen.now += 1000;
      return takingBack.press();
    },
    server: async (answer) => {
      waiting.shift()(answer);
      await settled();
    },
  };
}

test("where nothing was pressed the last answer that the page shows is meant", () => {
  const { undo, seen } = desk();

  assert.equal(undo(), false);
  assert.deepEqual(seen.told, []);
});

test("an answer that was never sent is taken out, and never is", async () => {
  const { outbox, answer, undo, server, seen } = desk();
  answer("a");
  answer("b");

  assert.equal(undo(), true);
  assert.deepEqual(seen.told, ["Taken back, never sent: b."]);
  assert.deepEqual(seen.back, [["b", true]]);
  await server(TAKEN);

  assert.deepEqual([seen.sent, outbox.items], [["do=done:row-a"], []]);
});

test("an answer on its way is waited for, and then taken back under its own id", async () => {
  const { outbox, answer, undo, server, seen } = desk();
  answer("a");

  assert.equal(undo(), true);
  assert.equal(seen.sent.length, 1);
  await server(TAKEN);
  assert.deepEqual(outbox.items.map((item) => item.client_id), ["a"]);
  await server(TAKEN);

  assert.deepEqual(seen.sent, ["do=done:row-a", "do=done:row-a takes_back=yes"]);
  assert.deepEqual(seen.told, ["Being taken back: a.", "Taken back: a."]);
  assert.deepEqual([outbox.items, seen.back], [[], [["a", false]]]);
});

test("an answer that may have arrived is not sent any more but to be taken back", async () => {
  const { outbox, answer, undo, server, seen } = desk();
  answer("a");
  await server(LATER);

  undo();
  outbox.wake();
  await settled();
  await server(TAKEN);

  assert.deepEqual(seen.sent, ["do=done:row-a", "do=done:row-a takes_back=yes"]);
  assert.deepEqual(outbox.items, []);
});

test("an answer that was recorded and is not on the page yet is taken back itself", async () => {
  const { answer, undo, server, seen } = desk();
  answer("a");
  await server(TAKEN);

  assert.equal(undo(), true);
  assert.deepEqual(seen.sent.at(-1), "do=done:row-a takes_back=yes");
});

test("an answer that the page shows is taken back by the page's own button", async () => {
  const { answer, undo, server, seen } = desk();
  answer("a");
  await server(TAKEN);
  seen.shown = 8;

  assert.equal(undo(), false);
});

test("after a refused answer no other one is taken back unawares", async () => {
  const { answer, undo, undoLater, server, seen } = desk();
  answer("a");
  await server({ verdict: "refused", message: "No." });

  assert.equal(undo(), true);
  assert.deepEqual(seen.told, ["a: this was not taken, so there is nothing to take back."]);
  assert.equal(undoLater(), false);
});

test("a finger that bounces takes back one", async () => {
  const { outbox, answer, undo } = desk();
  for (const id of ["a", "b", "c"]) answer(id);

  undo();
  assert.equal(undo(), true);

  assert.deepEqual(outbox.items.map((item) => item.client_id), ["a", "b"]);
});

test("pressed again it goes back one more, and waits where one is being taken back", async () => {
  const { outbox, answer, undo, undoLater, seen } = desk();
  answer("a");
  answer("b");

  undo();
  undoLater();
  undoLater();

  assert.deepEqual(outbox.items.map((item) => item.client_id), ["a"]);
  assert.deepEqual(seen.told, ["Taken back, never sent: b.", "Being taken back: a.", "Being taken back: a."]);
});

test("what begins a song and is on its way is waited for", async () => {
  const { outbox, answer, undo, seen } = desk();
  answer("g", "begin_song:");

  assert.equal(undo(), true);

  assert.deepEqual(seen.told, ["Still on its way: g. Wait for its answer."]);
  assert.deepEqual(outbox.items[0].fields, [["do", "begin_song:"]]);
});

test("a note is no answer: what was answered before it is meant", async () => {
  const { answer, undo, seen } = desk();
  answer("a");
  answer("n", "note:");

  undo();

  assert.deepEqual(seen.told, ["Being taken back: a."]);
});

test("while it is asked whether an old answer is still right nothing else is taken back", async () => {
  const { answer, undo, server, seen } = desk();
  answer("a");
  await server(LATER);
  seen.time = 1001;

  assert.equal(undo(), true);

  assert.deepEqual(seen.told, ["Say first whether what was pressed before is still right."]);
});

test("taking back counts as pressed now, however long the answer has waited", async () => {
  const { outbox, answer, undo, server, seen } = desk();
  answer("a");
  await server(LATER);
  seen.time = 900;
  undo();
  await settled();
  await server(LATER);

  seen.time = 1800;
  assert.deepEqual(outbox.old, []);
  seen.time = 1901;
  assert.deepEqual(outbox.old.map(isTakenBack), [true]);
});
