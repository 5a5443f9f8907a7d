// The stage tablet forgets who stood there: after a while without a touch it goes back to everybody's places.

const TOUCHES = ["pointerdown", "keydown", "scroll"];
const LOOK_MS = 1000;

/**
 * @param {HTMLFormElement} form Says where back is, and after how many seconds.
 * @param {() => boolean} isSending Whether something waits to be sent: then nobody is sent away.
 */
export function forgetAfterAWhile(form, isSending) {
  const { back, forgetsAfter } = form.dataset;
  if (!back) return;
  let touchedAt = performance.now();
  for (const touch of TOUCHES) addEventListener(touch, () => (touchedAt = performance.now()), { capture: true, passive: true });
  setInterval(() => {
    if (performance.now() - touchedAt >= Number(forgetsAfter) * 1000 && !isSending()) location.replace(back);
  }, LOOK_MS);
}
