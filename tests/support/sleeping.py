"""A page that nobody can see, and one that is seen again; and what moved on a page by itself."""

from playwright.sync_api import Page

_HIDE = """(isHidden) => {
  Object.defineProperty(document, "hidden", { configurable: true, get: () => isHidden });
  document.dispatchEvent(new Event("visibilitychange"));
}"""
_WATCH_SHIFTS = """() => {
  window.shifted = [];
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) {
      window.shifted.push(entry.sources.map((one) => one.node?.id || one.node?.className || "text").join(", "));
    }
  }).observe({ type: "layout-shift" });
}"""


def hide(page: Page) -> None:
    """Let the page believe that the screen went dark."""
    page.evaluate(_HIDE, arg=True)


def show(page: Page) -> None:
    """Let it believe that somebody looks again."""
    page.evaluate(_HIDE, arg=False)


def watch_shifts(page: Page) -> None:
    """Begin to note whatever moves without a person's doing, as the browser itself counts it."""
    page.evaluate(_WATCH_SHIFTS)


def shifts(page: Page) -> list[str]:
    """Return what moved since, after two more frames."""
    moved: list[str] = page.evaluate(
        "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(window.shifted))))"
    )
    return moved
