// What was pressed and not sent for too long: a phone tells that it was not, the desk is asked about each.

import { isTakenBack } from "./takingback.js";
import { say } from "./words.js";

const PREFIX = "monreq:outbox:";

/**
 * @param {HTMLFormElement} form
 * @returns {string} Where what is pressed on its page waits: that of another show, or from before a restoring, waits elsewhere.
 */
export function outboxName(form) {
  return `${placeOf(form)}:${form.elements.namedItem("show").value}`;
}

/** What a phone asks names nothing by a number that is counted anew, so it means the same after a restoring. */
const ASKS = /^(more|less|left|right|in|out|sound|call)[-:]/;

/**
 * Takes over what was asked of this show before it was restored; tells, and forgets, whatever else is left on this
 * page's address from before that or of other shows: it would be about something else here. Another tab may be open
 * at another show, so what was pressed there just now is left alone.
 * @param {HTMLFormElement} form
 * @param {{read: (name: string) => any, write: (name: string, value: any) => void, names: () => string[]}} store
 * @param {number} oldMs
 * @returns {string} What to tell; empty if nothing was left.
 */
export function leftOver(form, store, oldMs) {
  const [place, own, isDesk] = [placeOf(form), outboxName(form), form.dataset.live === "/desk"];
  const lost = [];
  for (const name of store.names()) {
    if (name === own || !(name === place || name.startsWith(`${place}:`))) continue;
    const items = store.read(name);
    if (!Array.isArray(items)) continue;
    const isThisShow = showOf(name) === showOf(own);
    const young = items.filter((item) => Date.now() - item.at <= oldMs);
    const asked = isThisShow && !isDesk ? young.filter((item) => ASKS.test(pressedOf(item))) : [];
    const kept = isThisShow ? [] : young;
    if (kept.length < items.length) store.write(name, kept);
    if (asked.length > 0) store.write(own, [...asked.map((item) => renamed(item, form)), ...(store.read(own) ?? [])]);
    lost.push(...items.filter((item) => !asked.includes(item) && !kept.includes(item)));
  }
  if (lost.length === 0) return "";
  const what = lost.map((item) => item.said || pressedOf(item) || "?").join("; ");
  return say("Never sent, because it was for another show, or for this one before it was restored: %(what)s.", { what });
}

/**
 * What was pressed just now for another show: only a page of that show sends it, and there may be none any more.
 * @param {HTMLFormElement} form
 * @param {{read: (name: string) => any, names: () => string[]}} store
 * @returns {import("./outbox.js").Item[]}
 */
export function waitingElsewhere(form, store) {
  const [place, own] = [placeOf(form), outboxName(form)];
  const names = store.names().filter((name) => name.startsWith(`${place}:`) && showOf(name) !== showOf(own));
  return names.flatMap((name) => store.read(name) ?? []);
}

/**
 * Shows what is too old, each with the choice to send it after all or not, and what waits for another show.
 * @param {HTMLElement} place
 * @param {import("./outbox.js").Outbox} outbox
 * @param {HTMLFormElement} form
 * @param {import("./outbox.js").Item[]} elsewhere
 */
export function askAboutOld(place, outbox, form, elsewhere) {
  const asked = outbox.old.map((item) => ({ item, waits: isWaiting(form, item) }));
  const known = JSON.stringify([asked.map(({ item, waits }) => [item.client_id, waits]), elsewhere.map((item) => item.client_id)]);
  if (place.dataset.asked !== known) {
    place.dataset.asked = known;
    place.replaceChildren(...asked.map(({ item, waits }) => question(item, waits, outbox)), ...elsewhere.map(told));
  }
  asked.forEach(({ item, waits }, index) => {
    const { firstChild } = place.children[index];
    const text = questionText(item, waits, outbox);
    if (firstChild.data !== text) firstChild.data = text;
  });
}

/** A key that is held keeps the focus while the minutes pass: they are written without it. */
function question(item, waits, outbox) {
  const line = document.createElement("p");
  line.append(questionText(item, waits, outbox), " ");
  if (waits || isTakenBack(item)) line.append(key(say("send it"), () => outbox.renew(item)), " ");
  line.append(key(say("do not send it"), () => outbox.remove(item)));
  return line;
}

function questionText(item, waits, outbox) {
  const said = { what: item.said, minutes: Math.floor(outbox.ageMs(item) / 60000) };
  if (isTakenBack(item)) return say("Being taken back: %(what)s.", said);
  if (waits) return say("%(what)s: pressed %(minutes)s min ago, no answer came. Is it still right?", said);
  return say("%(what)s: pressed %(minutes)s min ago, no answer came. It waits no more: it was answered or taken back.", said);
}

function told({ said }) {
  const line = document.createElement("p");
  line.append(say("Not sent so far, and for another show: %(what)s. Only that show's page can send it.", { what: said }));
  return line;
}

/**
 * Whether what an item answers still waits, as far as the page knows; what answers no requests may always be sent.
 * @param {HTMLFormElement} form
 * @param {import("./outbox.js").Item} item
 */
export function isWaiting(form, item) {
  const answered = requestsIn(item.fields);
  const waiting = new Set(requestsIn(Array.from(form.elements, ({ name, value }) => [name ?? "", value])));
  return answered.every((request) => waiting.has(request));
}

function requestsIn(fields) {
  return fields.filter(([name]) => name.endsWith("-requests")).flatMap(([, value]) => value.split(" ").filter(Boolean));
}

function key(words, press) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = words;
  button.addEventListener("click", press);
  return button;
}

function pressedOf(item) {
  return item.fields?.find(([field]) => field === "do")?.[1] ?? "";
}

function showOf(name) {
  return name.split(":").pop().split(".")[0];
}

function renamed(item, form) {
  const { value } = form.elements.namedItem("show");
  return { ...item, fields: item.fields.map(([field, said]) => [field, field === "show" ? value : said]) };
}

function placeOf(form) {
  return `${PREFIX}${new URL(form.action).pathname}`;
}
