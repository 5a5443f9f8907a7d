// Brings a row into view. The page's head is then seen whole or not at all: half a line of links helps nobody.

/** @param {Element | undefined} row */
export function bringIntoView(row) {
  const before = scrollY;
  row?.scrollIntoView({ block: "nearest" });
  if (scrollY !== before) showHeadWholeOrNot(row);
}

function showHeadWholeOrNot(row) {
  const head = document.querySelector("header.top")?.offsetHeight ?? 0;
  if (scrollY <= 0 || scrollY >= head) return;
  const foot = row.getBoundingClientRect().bottom + scrollY;
  scrollTo(0, foot <= innerHeight ? 0 : head);
}
