// What is asked lies over the end of the page: so much room is kept below the last line that it can be scrolled clear.

const DEAF_MS = 700; // chosen: a thumb on its way to what stood here before must not answer what stands here now

/** @param {HTMLElement | null} asked */
export function makeRoom(asked) {
  if (!asked) return;
  let timer = 0;
  new ResizeObserver(() => {
    asked.parentElement.style.setProperty("--asked", `${asked.offsetHeight}px`);
    asked.classList.add("deaf");
    clearTimeout(timer);
    timer = setTimeout(() => asked.classList.remove("deaf"), DEAF_MS);
  }).observe(asked);
}
