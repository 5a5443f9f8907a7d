// Keeps a question back until there was something to hear: the page says when it is due, by the server's clock.

const LOOK_MS = 1000;
const DEAF_MS = 700; // chosen: a thumb on its way to what the question covers must not answer it

/**
 * @param {() => number} nowMs The server's time.
 * @returns {() => void} Looks again, after places were put in.
 */
export function askWhenDue(nowMs) {
  const shown = new Set();

  function look() {
    for (const question of document.querySelectorAll("[data-due]")) {
      question.hidden = nowMs() < Number(question.dataset.due);
      if (!question.hidden && !shown.has(question.id)) appear(question);
    }
  }

  function appear(question) {
    shown.add(question.id);
    question.inert = true;
    setTimeout(() => (question.inert = false), DEAF_MS);
  }

  setInterval(look, LOOK_MS);
  look();
  return look;
}
