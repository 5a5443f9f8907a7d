// Of sentences that hold one after another shows the one that holds now, by the server's clock.

const LOOK_MS = 1000;

/**
 * @param {() => number} nowMs The server's time.
 * @returns {() => void} Looks again, after places were put in.
 */
export function showWhatHolds(nowMs) {
  function look() {
    for (const line of document.querySelectorAll("[data-until]")) {
      const { from, until } = /** @type {HTMLElement} */ (line).dataset;
      line.hidden = nowMs() < Number(from) || (Number(until) > 0 && nowMs() >= Number(until));
    }
  }

  setInterval(look, LOOK_MS);
  look();
  return look;
}
