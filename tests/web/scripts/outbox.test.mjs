import assert from "node:assert/strict";
import { test } from "node:test";
import { Outbox } from "../../../monreq/web/scripts/src/page/outbox.js";
import { createStore } from "../../../monreq/web/scripts/src/page/store.js";

const TAKEN = { verdict: "taken" };
const LATER = { verdict: "later" };

function item(id) {
  return { client_id: id, said: id, fields: [["do", `more:${id}`]] };
}

/** An outbox whose answers are given in advance, and whose pauses end when the test says so. */
function outboxThat(answers, store = createStore(() => failing()), clocks = {}) {
  const seen = { sent: [], answered: [], pauses: [] };
  const outbox = new Outbox({
    store,
    name: "outbox",
    send: async (one) => {
      seen.sent.push(one.client_id);
      return answers.shift() ?? TAKEN;
    },
    onAnswer: (one, answer) => seen.answered.push([one.client_id, answer.verdict]),
    onChange: () => {},
    later: (run, ms) => seen.pauses.push({ run, ms }),
    chance: () => 1,
    counted: () => 0,
    ...clocks,
  });
  return { outbox, seen };
}

function failing() {
  throw new Error("no storage here");
}

function keeping(content = {}) {
  return { getItem: (name) => content[name] ?? null, setItem: (name, value) => (content[name] = value), content };
}

const settled = () => new Promise((resolve) => setImmediate(resolve));

test("what was added is sent in order and leaves when it was answered", async () => {
  const { outbox, seen } = outboxThat([TAKEN, { verdict: "refused", message: "No." }]);

  outbox.add(item("a"));
  outbox.add(item("b"));
  await settled();

  assert.deepEqual(seen.answered, [["a", "taken"], ["b", "refused"]]);
  assert.deepEqual(outbox.items, []);
});

test("what nobody answers waits, keeps its id, and holds back what comes after it", async () => {
  const { outbox, seen } = outboxThat([LATER]);

  outbox.add(item("a"));
  outbox.add(item("b"));
  await settled();
  const before = [...seen.sent];
  seen.pauses[0].run();
  await settled();

  assert.deepEqual(before, ["a"]);
  assert.deepEqual(seen.sent, ["a", "a", "b"]);
});

test("pauses grow to five seconds and begin anew after an answer", async () => {
  const { outbox, seen } = outboxThat([...Array(6).fill(LATER), TAKEN, LATER]);

  outbox.add(item("a"));
  for (let round = 0; round < 6; round++) {
    await settled();
    seen.pauses[round].run();
  }
  await settled();
  outbox.add(item("b"));
  await settled();

  assert.deepEqual(seen.pauses.map((pause) => pause.ms), [500, 1000, 2000, 4000, 5000, 5000, 500]);
});

test("a server that says when to come back is asked then", async () => {
  const { outbox, seen } = outboxThat([{ verdict: "later", waitMs: 7000 }]);

  outbox.add(item("a"));
  await settled();

  assert.deepEqual(seen.pauses.map((pause) => pause.ms), [7000]);
});

test("waking ends a pause", async () => {
  const { outbox, seen } = outboxThat([LATER]);
  outbox.add(item("a"));
  await settled();

  outbox.wake();
  await settled();

  assert.deepEqual(seen.sent, ["a", "a"]);
  assert.deepEqual(outbox.items, []);
});

test("what waits is there after a reload, under its first id", async () => {
  const storage = keeping();
  const { outbox } = outboxThat([LATER], createStore(() => storage));
  outbox.add(item("a"));
  await settled();

  const { outbox: reloaded, seen } = outboxThat([], createStore(() => storage));
  reloaded.drain();
  await settled();

  assert.deepEqual(seen.answered, [["a", "taken"]]);
  assert.equal(storage.content.outbox, "[]");
});

test("two tabs keep what the other one added", async () => {
  const storage = keeping();
  const one = outboxThat([LATER], createStore(() => storage)).outbox;
  const other = outboxThat([LATER], createStore(() => storage)).outbox;

  one.add(item("a"));
  other.add(item("b"));
  await settled();

  assert.deepEqual(one.items.map((kept) => kept.client_id), ["a", "b"]);
});

test("what another tab sent does not go on waiting to be sent here", async () => {
  const storage = keeping();
  const { outbox: one, seen } = outboxThat([LATER], createStore(() => storage));
  const shown = [];
  one.onChange = () => shown.push([one.sending.length, one.isHeldUp]);
  one.add(item("a"));
  await settled();
  const { outbox: other } = outboxThat([], createStore(() => storage));
  other.drain();
  await settled();

  seen.pauses[0].run();
  await settled();

  assert.deepEqual([seen.sent, shown.at(-1)], [["a"], [0, false]]);
});

test("a storage with nonsense in it is an empty outbox", () => {
  const storage = keeping({ outbox: "{broken" });
  const { outbox } = outboxThat([], createStore(() => storage));

  assert.deepEqual(outbox.items, []);
});

/** Two clocks that a test sets: the time, and one that only counts on. */
function clocks(oldMs) {
  const set = { now: 1_000_000, counted: 0 };
  return { set, parts: { oldMs, now: () => set.now, counted: () => set.counted } };
}

test("what became too old while nobody answered is not sent, and stays until a person says so", async () => {
  const { set, parts } = clocks(1000);
  const { outbox, seen } = outboxThat([LATER], undefined, parts);
  outbox.add(item("a"));
  await settled();

  set.now += 1001;
  outbox.wake();
  await settled();
  assert.deepEqual([seen.sent, outbox.sending.length, outbox.old.length], [["a"], 0, 1]);

  outbox.renew(outbox.old[0]);
  await settled();
  assert.deepEqual([seen.sent, outbox.items], [["a", "a"], []]);
});

test("what is too old holds nothing back that was pressed since", async () => {
  const { set, parts } = clocks(1000);
  const { outbox, seen } = outboxThat([LATER], undefined, parts);
  outbox.add(item("a"));
  await settled();

  set.now += 1001;
  outbox.add(item("b"));
  await settled();

  assert.deepEqual(seen.answered, [["b", "taken"]]);
  assert.deepEqual(outbox.old.map((kept) => kept.client_id), ["a"]);
});

test("a clock set back by an hour makes nothing old and loses nothing", async () => {
  const storage = keeping();
  const { set, parts } = clocks(1000);
  const { outbox } = outboxThat([LATER], createStore(() => storage), parts);
  outbox.add(item("a"));
  await settled();

  set.now -= 3_600_000;
  const { seen, outbox: reloaded } = outboxThat([], createStore(() => storage), parts);
  assert.equal(reloaded.ageMs(reloaded.items[0]), 0);
  reloaded.drain();
  await settled();

  assert.deepEqual(seen.answered, [["a", "taken"]]);
});

test("a clock set back hides no age from the page that took it", async () => {
  const { set, parts } = clocks(1000);
  const { outbox } = outboxThat([LATER], undefined, parts);
  outbox.add(item("a"));
  await settled();

  set.now -= 3_600_000;
  set.counted += 1001;

  assert.equal(outbox.old.length, 1);
});
