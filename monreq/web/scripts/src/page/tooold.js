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
 * Shows what is too old, each with the choice to send it after all or not.
 * @param {HTMLElement} place
 * @param {import("./outbox.js").Outbox} outbox
 */
export function askAboutOld(place, outbox) {
  const asked = outbox.old;
  const known = asked.map((item) => item.client_id).join(" ");
  if (place.dataset.asked === known) return;
  place.dataset.asked = known;
  place.replaceChildren(...asked.map((item) => question(item, outbox)));
}

function question(item, outbox) {
  const line = document.createElement("p");
  const minutes = Math.floor(outbox.ageMs(item) / 60000);
  const text = isTakenBack(item)
    ? say("Being taken back: %(what)s.", { what: item.said })
    : say("%(what)s: pressed %(minutes)s min ago, no answer came. Is it still right?", { what: item.said, minutes });
  line.append(text, " ", key(say("send it"), () => outbox.renew(item)), " ", key(say("do not send it"), () => outbox.remove(item)));
  return line;
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
