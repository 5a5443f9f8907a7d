// The keys that belong to no row: buttons, links, folds and fields of the page that say which key is theirs.

import { click, isShortcut, keyOf } from "./pressed.js";

const FIELDS = "input, select, textarea";
const NUMBER_MS = 700; // chosen: time for a second digit, where mixes have two

/** Listens where nothing else took the key. */
export class PageKeys {
  constructor() {
    this.number = null;
    this.timer = 0;
  }

  listen() {
    document.addEventListener("keydown", (event) => {
      if (event.isComposing || event.repeat || isShortcut(event)) return;
      if (event.target instanceof Element && event.target.closest(FIELDS)) {
        if (event.key === "Escape") leave(event.target);
      } else if (this.press(keyOf(event))) event.preventDefault();
    });
  }

  /** @returns {boolean} Whether the key was one of ours. */
  press(key) {
    if (this.number !== null) return this.typeNumber(key);
    if (key === "m" && document.querySelector("a[data-number]")) {
      this.number = "";
      document.documentElement.dataset.awaits = "number";
      return true;
    }
    const place = Array.from(document.querySelectorAll("[data-page-key]")).find((one) => one.dataset.pageKey === key);
    if (!place) return false;
    act(place);
    return true;
  }

  /** Goes to a mix by its number; waits a moment where it may get another digit. */
  typeNumber(key) {
    clearTimeout(this.timer);
    const typed = /^\d$/.test(key) ? this.number + key : this.number;
    const mixes = Array.from(document.querySelectorAll("a[data-number]"), (link) => link.dataset.number);
    const mayGoOn = /^\d$/.test(key) && mixes.some((one) => one !== typed && one.startsWith(typed));
    if (mayGoOn) {
      this.number = typed;
      this.timer = setTimeout(() => this.goTo(typed), NUMBER_MS);
    } else this.goTo(/^\d$/.test(key) || key === "Enter" ? typed : "");
    return true;
  }

  goTo(number) {
    this.number = null;
    delete document.documentElement.dataset.awaits;
    document.querySelector(`a[data-number="${number}"]`)?.click();
  }
}

function act(place) {
  if (!place.matches(FIELDS)) {
    click(place.parentElement, `[data-page-key="${place.dataset.pageKey}"]`);
    return;
  }
  place.focus();
  place.select?.();
}

function leave(field) {
  if (field instanceof HTMLInputElement && !field.closest("[data-row]")) field.blur();
}
