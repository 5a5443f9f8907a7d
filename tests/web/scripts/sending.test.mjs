import assert from "node:assert/strict";
import { after, test } from "node:test";
import { sender } from "../../../monreq/web/scripts/src/page/sending.js";

const ITEM = { client_id: "id1", at: 0, said: "more Voice", fields: [["do", "more:voice"]] };
const realFetch = globalThis.fetch;
after(() => (globalThis.fetch = realFetch));

/** Sends the item to a server that gives these answers, one after another. */
async function sentTo(answers, renew = async () => false, item = ITEM) {
  const asked = [];
  const token = { value: "old" };
  globalThis.fetch = async (address, options) => {
    asked.push({ address, ...options, body: Object.fromEntries(options.body) });
    const answer = answers.shift();
    if (answer instanceof Error) throw answer;
    return answer;
  };
  const form = { action: "/mix/front", elements: { namedItem: () => token } };
  const answer = await sender(form, () => renew(token))(item);
  return { answer, asked };
}

function json(status, body, headers = {}) {
  return new Response(JSON.stringify(body), { status, headers });
}

test("an item is sent as its form, with its id and the page's token", async () => {
  const { answer, asked } = await sentTo([json(201, { state: "taken" })]);

  assert.deepEqual(answer, { verdict: "taken" });
  assert.deepEqual(asked[0].body, { do: "more:voice", client_id: "id1", csrf_token: "old" });
  assert.equal(asked[0].headers.Accept, "application/json");
});

for (const [name, response] of [
  ["no network", new TypeError("network")],
  ["a failure of the server", json(503, { message: "Not stored." })],
  ["a sign-in page of the Wi-Fi", new Response("<html>sign in</html>", { status: 200 })],
  ["a redirect", Response.error()],
]) {
  test(`${name} means later`, async () => {
    const { answer } = await sentTo([response]);

    assert.deepEqual(answer, { verdict: "later" });
  });
}

test("too much at once means later where the server says when", async () => {
  const { answer } = await sentTo([json(429, {}, { "Retry-After": "2" })]);

  assert.deepEqual(answer, { verdict: "later", waitMs: 2000 });
});

test("too much at once is a refusal where no time makes it less", async () => {
  const { answer } = await sentTo([json(429, { message: "Fifty of yours wait already." })]);

  assert.deepEqual(answer, { verdict: "refused", message: "Fifty of yours wait already." });
});

test("a refusal is told in the server's words, or in plain ones", async () => {
  const inWords = await sentTo([json(422, { error: "source_off", message: "This source is off." })]);
  const without = await sentTo([new Response("", { status: 404 })]);

  assert.deepEqual(inWords.answer, { verdict: "refused", message: "This source is off." });
  assert.deepEqual(without.answer, { verdict: "refused", message: "This was not taken (404). Load the page again." });
});

test("what is asked about comes with what confirms it", async () => {
  const { answer } = await sentTo([json(422, { message: "Kick: asked -3, typed +2.", confirms: "1f:jump.kick" })]);

  assert.deepEqual(answer, { verdict: "refused", message: "Kick: asked -3, typed +2.", confirms: "1f:jump.kick" });
});

test("a stale token is renewed and the item sent once more", async () => {
  const renew = async (token) => Boolean((token.value = "new"));
  const { answer, asked } = await sentTo([json(400, { error: "csrf" }), json(201, { state: "taken" })], renew);

  assert.deepEqual(answer, { verdict: "taken" });
  assert.deepEqual(asked.map((one) => one.body.csrf_token), ["old", "new"]);
});

test("a stale token that cannot be renewed now means later", async () => {
  const { answer, asked } = await sentTo([json(400, { error: "csrf" })]);

  assert.deepEqual(answer, { verdict: "later" });
  assert.equal(asked.length, 1);
});

test("a token that is refused anew is a refusal, not a loop", async () => {
  const stale = () => json(400, { error: "csrf", message: "Too old." });
  const { answer } = await sentTo([stale(), stale()], async () => true);

  assert.deepEqual(answer, { verdict: "refused", message: "Too old." });
});
