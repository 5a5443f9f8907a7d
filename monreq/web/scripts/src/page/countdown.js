// What is left of the usual gap, by the server's clock.

import { say } from "./words.js";

const EVERY_MS = 1000;

/**
 * @param {number} ms What is left; below zero once it is over.
 * @returns {string}
 */
export function leftText(ms) {
  const seconds = Math.ceil(ms / 1000);
  return seconds > 0 ? say("%(seconds)s s left", { seconds }) : say("%(seconds)s s over", { seconds: -seconds });
}

/** @param {() => number} nowMs The server's time. */
export function countDown(nowMs) {
  const write = () => {
    for (const time of document.querySelectorAll("time[data-ends]")) {
      const text = leftText(Number(time.dataset.ends) - nowMs());
      if (time.textContent !== text) time.textContent = text;
    }
  };
  setInterval(write, EVERY_MS);
  return write;
}
