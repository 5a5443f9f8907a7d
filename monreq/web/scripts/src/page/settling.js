// The row in hand, or what Enter does in it, may change by itself: for a moment keys do nothing then, for they were meant
// for what was there before.

const SETTLE_MS = 700; // chosen: to see that another row is in hand and hold back a finger that is on its way
const BOUNCE_MS = 200; // chosen: a finger that bounces is back by then, one that means the next row is not there yet
const MARK = "settling";

/** Keeps keys from a row until it has been in hand for a moment. */
export class Settling {
  constructor() {
    this.until = 0;
    this.bounceUntil = 0;
  }

  get isOn() {
    return performance.now() < Math.max(this.until, this.bounceUntil);
  }

  begin() {
    this.until = performance.now() + SETTLE_MS;
    setTimeout(() => this.mark(document.querySelector(`.${MARK}`)), SETTLE_MS + 1);
  }

  /** A finger that bounces after an answer does not answer the row that follows. */
  answered() {
    this.bounceUntil = performance.now() + BOUNCE_MS;
    setTimeout(() => this.mark(document.querySelector(`.${MARK}`)), BOUNCE_MS + 1);
  }

  /** Whoever went to a row did not bounce. */
  went() {
    this.bounceUntil = 0;
  }

  /** Shows on a row whether keys act on it yet. */
  mark(row) {
    row?.classList.toggle(MARK, this.isOn);
  }
}
