// How long ago something was asked, by the server's clock: a phone's may be wrong by hours.

import { say } from "./words.js";

const EVERY_MS = 5000;

/**
 * @param {number} ms
 * @param {boolean} [inSeconds] Whether the first minute is counted.
 * @returns {string}
 */
export function ageText(ms, inSeconds = false) {
  const minutes = Math.floor(ms / 60000);
  if (minutes < 1 && inSeconds) return say("%(seconds)s s ago", { seconds: Math.max(0, Math.floor(ms / 1000)) });
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

  /** @returns {number} The server's time. */
  nowMs() {
    return Date.now() + this.aheadMs;
  }

  write() {
    const nowMs = this.nowMs();
    for (const time of document.querySelectorAll("time[data-asked]")) {
      const text = ageText(nowMs - Number(time.dataset.asked), "seconds" in time.dataset);
      if (time.textContent !== text) time.textContent = text;
    }
  }
}
