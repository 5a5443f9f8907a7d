// The row in hand, or what Enter does in it, may change by itself: for a moment keys do nothing then, for they were meant
// for what was there before.

const SETTLE_MS = 700; // chosen: to see that another row is in hand and hold back a finger that is on its way
const BOUNCE_MS = 200; // chosen: a finger that bounces is back by then, one that means the next row is not there yet
const CALL_SETTLE_MS = 1000; // chosen: to see it also where the eye comes back from the desk, and read who calls
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

  /** @param {boolean} [isCall] Whether it is a call that came into hand without an answer of one's own, or changed there. */
  begin(isCall = false) {
    const settleMs = isCall ? CALL_SETTLE_MS : SETTLE_MS;
    this.until = Math.max(this.until, performance.now() + settleMs);
    setTimeout(() => this.mark(document.querySelector(`.${MARK}`)), settleMs + 1);
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
