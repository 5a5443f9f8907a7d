// How long ago something was asked, by the server's clock: a phone's may be wrong by hours.

import { say } from "./words.js";

const EVERY_MS = 5000;

/**
 * @param {number} ms
 * @returns {string}
 */
export function ageText(ms) {
  const minutes = Math.floor(ms / 60000);
  if (minutes < 1) return say("now");
  if (minutes < 60) return say("%(minutes)s min", { minutes });
  return say("%(hours)s h %(minutes)s min", { hours: Math.floor(minutes / 60), minutes: minutes % 60 });
}

/** Writes every age of the page. */
export class Ages {
  /** @param {number} nowMs The server's time, NaN if it was not told. */
  constructor(nowMs) {
    this.aheadMs = 0;
    this.setTime(nowMs);
    setInterval(() => this.write(), EVERY_MS);
  }

  /** @param {number} nowMs */
  setTime(nowMs) {
    if (nowMs > 0) this.aheadMs = nowMs - Date.now();
  }

  write() {
    const nowMs = Date.now() + this.aheadMs;
    for (const time of document.querySelectorAll("time[data-asked]")) {
      const text = ageText(nowMs - Number(time.dataset.asked));
      if (time.textContent !== text) time.textContent = text;
    }
  }
}
