// Brings a row into view, clear of the bar of the song. The page's head is then seen whole or not at all: half a line of
// links helps nobody.

const CLEAR_PX = 8; // chosen: the outline of the row in hand is seen too

/** @param {Element | undefined} row */
export function bringIntoView(row) {
  if (!row) return;
  const before = scrollY;
  row.scrollIntoView({ block: "nearest" });
  clearOfBar(row);
  if (scrollY !== before) showHeadWholeOrNot(row);
}

/** The bar sticks to the top, as high as it has to be, and what is scrolled beneath it is not seen. */
function clearOfBar(row) {
  const bar = document.getElementById("song")?.getBoundingClientRect().bottom ?? 0;
  const covered = bar + CLEAR_PX - row.getBoundingClientRect().top;
  if (covered > 0) scrollBy(0, -covered);
}

function showHeadWholeOrNot(row) {
  const head = document.querySelector("header.top")?.offsetHeight ?? 0;
  if (scrollY <= 0 || scrollY >= head) return;
  const foot = row.getBoundingClientRect().bottom + scrollY;
  scrollTo(0, foot <= innerHeight ? 0 : head);
}
