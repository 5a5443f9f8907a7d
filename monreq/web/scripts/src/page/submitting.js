// Takes the sending of a form over from the browser: every button pressed becomes an item of the outbox.

import { freshId } from "./clientid.js";

const DOUBLE_MS = 350; // chosen: a thumb that slips, not one that asks twice

/**
 * @typedef {HTMLButtonElement | HTMLInputElement} Button
 */

/** Watches one form. */
export class Submitting {
  /**
   * @param {HTMLFormElement} form
   * @param {import("./outbox.js").Outbox} outbox
   */
  constructor(form, outbox) {
    this.form = form;
    this.outbox = outbox;
    this.lastPressed = null;
    /** @type {Map<string, string>} What sending by a button again confirms, by the button's value. */
    this.confirms = new Map();
    this.last = { said: "", at: -Infinity };
    document.addEventListener("click", (event) => this.remember(event), true);
    form.addEventListener("submit", (event) => this.take(event));
  }

  /** Older browsers do not say which button sent a form. */
  remember(event) {
    const button = event.target instanceof Element && event.target.closest("button[name=do]");
    this.lastPressed = button && button.form === this.form ? button : null;
  }

  /** @param {SubmitEvent} event */
  take(event) {
    const button = event.submitter ?? this.lastPressed;
    event.preventDefault();
    if (!button || button.name !== "do" || this.isDouble(button)) return;
    this.outbox.add({ client_id: freshId(), said: saidBy(button), fields: [...fieldsOf(this.form, button), ...this.confirming(button)] });
    navigator.vibrate?.(15);
    foldCalls(button);
  }

  /** What was asked about is told with the second sending; whether that says the same, the desk's laptop looks. */
  confirming(button) {
    const confirms = this.confirms.get(button.value);
    return confirms ? [["confirms", confirms]] : [];
  }

  /** Remembers what was asked about, until that button's sending is taken. */
  answered(item, answer) {
    if (answer.confirms) this.confirms.set(buttonOf(item), answer.confirms);
    else this.confirms.delete(buttonOf(item));
  }

  /** The same button says something else once its row holds other requests. */
  isDouble(button) {
    const now = performance.now();
    const requests = button.closest("[data-row]")?.querySelector("input[type=hidden]")?.value ?? "";
    const said = `${button.value} ${requests}`;
    const isDouble = this.last.said === said && now - this.last.at < DOUBLE_MS;
    this.last = { said, at: isDouble ? this.last.at : now };
    return isDouble;
  }

  /** Shows which buttons wait for an answer. */
  mark() {
    const waiting = new Set(this.outbox.sending.map(buttonOf));
    const buttons = Array.from(this.form.elements).filter((one) => one.name === "do");
    const busy = new Set();
    for (const button of buttons) {
      const waits = waiting.has(button.value);
      button.classList.toggle("sent", waits);
      if (waits) busy.add(placeOf(button));
    }
    for (const place of new Set(buttons.map(placeOf))) {
      if (busy.has(place)) place?.setAttribute("aria-busy", "true");
      else place?.removeAttribute("aria-busy");
    }
  }
}

/** @param {import("./outbox.js").Item} item */
export function buttonOf(item) {
  return item.fields.find(([name]) => name === "do")?.[1] ?? "";
}

/** Empties what was typed for an answer that was taken, unless something else was typed since. */
export function clearTyped(form, item) {
  for (const [name, value] of item.fields) {
    const field = form.elements.namedItem(name);
    if (field instanceof HTMLInputElement && field.type === "text" && field.value === value) field.value = "";
  }
}

/** What to do now is told right above the calls, and needs the room. */
function foldCalls(button) {
  const calls = button.closest("details.call");
  if (!calls) return;
  calls.open = false;
  calls.querySelector("summary").focus({ preventScroll: true });
}

/** What a button says, with the row that it stands in. */
function saidBy(button) {
  const row = button.closest("[data-row]");
  const mix = row?.id.split("-")[1];
  const whose = [mix && document.querySelector(`#mix-${mix} th a`), row?.querySelector(".tape")].map(wordsOf);
  return [...whose, button.getAttribute("aria-label") ?? wordsOf(button)].filter(Boolean).join(", ");
}

/** @param {Element | null | undefined} element Its words without the key that stands before them. */
function wordsOf(element) {
  if (!element) return "";
  const words = element.cloneNode(true);
  for (const key of words.querySelectorAll("kbd")) key.remove();
  return words.textContent.replace(/\s+/g, " ").trim();
}

function placeOf(button) {
  return button.closest("li");
}

/** @returns {[string, string][]} The fields of the button's own row, and those that belong to none. */
function fieldsOf(form, button) {
  const row = button.closest("[data-row]");
  const foreign = new Set(
    Array.from(form.elements)
      .filter((field) => {
        const own = field.closest("[data-row]");
        return own && own !== row;
      })
      .map((field) => field.name),
  );
  const fields = Array.from(new FormData(form)).filter(([name]) => !foreign.has(name) && name !== "csrf_token");
  return [...fields, [button.name, button.value]];
}
