// How long ago something was asked, by the server's clock: a phone's may be wrong by hours.

const EVERY_MS = 5000;

/**
 * @param {number} ms
 * @returns {string}
 */
export function ageText(ms) {
  const minutes = Math.floor(ms / 60000);
  if (minutes < 1) return "now";
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
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
