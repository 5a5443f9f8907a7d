// What was pressed and not sent for too long: a phone tells that it was not, the desk is asked about each.

import { say } from "./words.js";

const PREFIX = "monreq:outbox:";

/**
 * @param {HTMLFormElement} form
 * @returns {string} Where what is pressed on its page waits: that of another show, or from before a restoring, waits elsewhere.
 */
export function outboxName(form) {
  return `${placeOf(form)}:${form.elements.namedItem("show").value}`;
}

/**
 * Tells, and forgets, what is left of other shows on this page's address: it would have been about something else here.
 * Another tab may be open at another show, so what it pressed just now is left alone.
 * @param {HTMLFormElement} form
 * @param {{read: (name: string) => any, write: (name: string, value: any) => void, names: () => string[]}} store
 * @param {number} oldMs
 * @returns {string} What to tell; empty if nothing was left.
 */
export function leftOver(form, store, oldMs) {
  const [place, own] = [placeOf(form), outboxName(form)];
  const lost = [];
  for (const name of store.names()) {
    if (name === own || !(name === place || name.startsWith(`${place}:`))) continue;
    const items = store.read(name);
    if (!Array.isArray(items)) continue;
    const old = items.filter((item) => !(Date.now() - item.at <= oldMs));
    if (old.length > 0) store.write(name, items.filter((item) => !old.includes(item)));
    lost.push(...old);
  }
  if (lost.length === 0) return "";
  const what = lost.map((item) => item.said || item.fields?.find(([field]) => field === "do")?.[1] || "?").join("; ");
  return say("Never sent, because it was for another show: %(what)s.", { what });
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
  const text = say("%(what)s: pressed %(minutes)s min ago, no answer came. Is it still right?", { what: item.said, minutes });
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

function placeOf(form) {
  return `${PREFIX}${new URL(form.action).pathname}`;
}
