// The choices of a call lie over the strips while they are open: whoever goes on by keys must not go on beneath them.

export function foldCallsWhenLeft() {
  const calls = document.querySelector("details.call");
  if (!calls) return;
  document.addEventListener("focusin", ({ target }) => {
    if (!calls.contains(target) && target.matches(":focus-visible")) calls.open = false;
  });
}
