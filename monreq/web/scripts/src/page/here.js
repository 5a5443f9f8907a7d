// Tells the other side that this page is there, and whether somebody can see it; at the desk also which row is in hand.

import { freshId } from "./clientid.js";

const BEAT_MS = 20000; // as in domain/presence.py
const ACT_PAUSE_MS = 300; // chosen: a key that goes through three rows tells the last one

/** One page's word about itself. */
export class Here {
  /**
   * @param {import("socket.io-client").Socket} socket
   * @param {boolean} isDesk
   */
  constructor(socket, isDesk) {
    this.socket = socket;
    this.page = freshId();
    this.timer = 0;
    socket.on("connect", () => this.tell());
    document.addEventListener("visibilitychange", () => this.tell());
    setInterval(() => this.tell(), BEAT_MS);
    if (isDesk) for (const act of ["keydown", "pointerdown"]) document.addEventListener(act, () => this.acted());
  }

  acted() {
    if (!this.timer) this.timer = setTimeout(() => this.tell(rowInHand()), ACT_PAUSE_MS);
  }

  /** @param {string} [row] The row that a person did something on just now. */
  tell(row = "") {
    clearTimeout(this.timer);
    this.timer = 0;
    this.socket.volatile.emit("here", { page: this.page, awake: !document.hidden, row });
  }

  /** Says beside each row which other desk is on it, and leaves this desk itself out. */
  mark() {
    const others = new Map();
    for (const desk of document.querySelectorAll("#desks > li")) {
      desk.hidden = desk.dataset.desk === this.page;
      if (!desk.hidden && desk.dataset.on) others.set(desk.dataset.on, desk.dataset.said);
    }
    for (const row of document.querySelectorAll("#queue > li[data-row]")) {
      const said = others.get(row.id);
      if (said) row.dataset.elsewhere = said;
      else delete row.dataset.elsewhere;
    }
  }
}

function rowInHand() {
  return document.querySelector("#queue > li.now")?.id ?? "";
}
