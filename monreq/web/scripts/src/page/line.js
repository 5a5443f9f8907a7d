// The status line: whether what the page shows is what the desk has, and whether anything is still on its way.

import { say } from "./words.js";

const LOST_MS = 8000; // chosen: Wi-Fi comes and goes for a moment; after this a person should know

/** Writes the line. */
export class Line {
  /**
   * @param {HTMLElement} element
   * @param {string} lost What it says where there is no contact.
   */
  constructor(element, lost) {
    this.element = element;
    this.lost = lost;
    this.state = "new";
    this.words = "";
    this.toSend = 0;
    this.isHeldUp = false;
    this.timer = setTimeout(() => this.lose(), LOST_MS);
  }

  /**
   * @param {"live" | "reading" | "reconnecting" | "refused"} state
   * @param {string} [words]
   */
  set(state, words = "") {
    const isFirst = this.state === "new" && state === "reconnecting";
    if (isFirst || (state === "reconnecting" && this.state === "lost")) return;
    if (state !== this.state) clearTimeout(this.timer);
    if (state === "reconnecting" && state !== this.state) this.timer = setTimeout(() => this.lose(), LOST_MS);
    this.state = state;
    this.words = words;
    this.write();
  }

  /**
   * @param {number} count How much waits to be sent.
   * @param {boolean} isHeldUp Whether sending it has failed so far.
   */
  setToSend(count, isHeldUp) {
    this.toSend = count;
    this.isHeldUp = isHeldUp;
    this.write();
  }

  lose() {
    this.state = "lost";
    this.write();
  }

  write() {
    const text = this.text();
    if (this.element.textContent !== text) this.element.textContent = text;
    this.element.dataset.state = this.state;
    this.element.dataset.trouble = this.isTrouble ? "1" : "";
  }

  /** Whether what it says is to be seen whatever else stands there. */
  get isTrouble() {
    return !["new", "live"].includes(this.state) || (this.isHeldUp && this.toSend > 0);
  }

  text() {
    const waits = this.toSend ? say("%(count)s to send", { count: this.toSend }) : "";
    const words = {
      new: "",
      live: say("live"),
      reading: say("looks every few seconds"),
      reconnecting: say("reconnecting"),
      lost: this.lost,
      refused: this.words,
    }[this.state];
    // While all is well a tap is answered before the eye gets here.
    if ((this.state === "live" && !this.isHeldUp) || !waits) return words;
    return words ? say("%(state)s: %(waits)s", { state: words, waits }) : waits;
  }
}
