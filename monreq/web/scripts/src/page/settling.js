// The row in hand, or what Enter does in it, may change by itself: for a moment keys do nothing then, for they were meant
// for what was there before.

const SETTLE_MS = 700; // chosen: to see that another row is in hand and hold back a finger that is on its way
const MARK = "settling";

/** Keeps keys from a row until it has been in hand for a moment. */
export class Settling {
  constructor() {
    this.until = 0;
  }

  get isOn() {
    return performance.now() < this.until;
  }

  begin() {
    this.until = performance.now() + SETTLE_MS;
    setTimeout(() => this.mark(document.querySelector(`.${MARK}`)), SETTLE_MS + 1);
  }

  /** Shows on a row whether keys act on it yet. */
  mark(row) {
    row?.classList.toggle(MARK, this.isOn);
  }
}
