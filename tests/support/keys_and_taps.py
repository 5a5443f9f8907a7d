"""The commonest actions of a show, done with counted keys and taps on real pages; what `docs/keys-and-taps.md` tells.

    python -m tests.support.keys_and_taps

writes that page anew, from a demo and a browser of its own.
"""

import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Locator, Page, expect, sync_playwright

from tests.support.chromium import launch
from tests.support.demo import Demo, running_demo
from tests.support.hands import Desk, Phone
from tests.support.serving import ROOT

TABLE = ROOT / "docs" / "keys-and-taps.md"

_HEAD = """# Keys and taps

What the twelve commonest actions of a show take, counted while a browser does them: keys at the desk, taps at a phone.
The tests do them again and compare; `python -m tests.support.keys_and_taps` writes this page anew.

| action | where | how | keys or taps |
|---|---|---|---|
"""


class Counted:
    """A page whose every key and tap is counted.

    Attributes:
        done: What was pressed, in order.
    """

    def __init__(self, page: Page) -> None:
        self.page = page
        self.done: list[str] = []

    def keys(self, *keys: str) -> None:
        """Press keys, one after another."""
        for key in keys:
            self.page.keyboard.press(key)
            self.done.append(key.lower())

    def tap(self, place: Locator, name: str) -> None:
        """Tap a place once."""
        place.click()
        self.done.append(name)

    def taken(self) -> list[str]:
        """Return what was pressed since the last time this was asked."""
        done, self.done = self.done, []
        return done


@dataclass(frozen=True)
class Evening:
    """A demo's evening with a desk and the phone of the Bass open."""

    demo: Demo
    desk: Desk
    phone: Phone
    keys: Counted
    taps: Counted

    def wait_for_row(self, source: str, change: float = 3) -> None:
        """Let somebody ask, and wait until the desk has it in hand."""
        self.demo.clear()
        expect(self.desk.rows).to_have_count(0)
        self.demo.ask("bass", source, change)
        self.desk.row("bass", source).is_current()

    def has_answered(self, text: str) -> None:
        """Wait until this stands as the last answer."""
        expect(self.desk.last_answers.first).to_contain_text(text)


def evening_of(demo: Demo, desk: Desk, phone: Phone) -> Evening:
    """Return an evening whose keys and taps are counted."""
    return Evening(demo, desk, phone, Counted(desk.page), Counted(phone.page))


def _done(it: Evening) -> None:
    it.wait_for_row("kick", -1)
    it.keys.keys("Enter")
    it.desk.row("bass", "kick").is_gone()


def _another_figure(it: Evening) -> None:
    it.wait_for_row("kick", -2)
    it.keys.keys("-", "1", "Enter")
    it.desk.row("bass", "kick").is_gone()
    it.has_answered("done \N{MINUS SIGN}1")


def _level_read_off(it: Evening) -> None:
    it.wait_for_row("snare")
    it.keys.keys("@", "-", "1", "2", "Enter")
    it.desk.row("bass", "snare").is_gone()
    assert it.demo.level("bass", "snare") == -12


def _set_aside(it: Evening) -> None:
    it.wait_for_row("guitar")
    it.keys.keys("s")
    expect(it.desk.page.locator("#queue > li.aside")).to_have_count(1)


def _not_done(it: Evening) -> None:
    it.wait_for_row("guitar")
    it.keys.keys("x", "f")
    it.desk.row("bass", "guitar").is_gone()
    it.has_answered("near feedback")


def _undo(it: Evening) -> None:
    it.wait_for_row("lead", -1)
    it.desk.press("Enter")
    it.desk.row("bass", "lead").is_gone()
    it.keys.keys("u")
    it.desk.row("bass", "lead").is_current()


def _corrected(it: Evening) -> None:
    it.wait_for_row("accord", -1)
    it.keys.keys("c", "-", "1", "7", "Enter")
    expect(it.desk.row("bass", "accord").set_to).to_contain_text("\N{MINUS SIGN}17")


def _song_runs(it: Evening) -> None:
    it.keys.keys("g")
    expect(it.desk.page.locator("#song.runs")).to_have_count(1)


def _ask_for_somebody(it: Evening) -> None:
    it.demo.clear()
    it.keys.keys("n", "2", "k", "+", "3", "Enter")
    it.desk.row("bass", "kick").is_current()


def _ask(it: Evening) -> None:
    it.demo.clear()
    it.taps.tap(it.phone.button("more Guitar"), "more")
    it.phone.sees("Guitar", "+3, waiting")


def _take_back(it: Evening) -> None:
    it.phone.ask("less Trumpet")
    it.phone.sees("Trumpet", "-3, waiting")
    it.taps.tap(it.phone.page.locator("#strip-trumpet .take-back"), "take back")
    expect(it.phone.page.locator("#strip-trumpet .take-back")).to_have_count(0)


def _call(it: Evening) -> None:
    it.taps.tap(it.phone.page.get_by_text("Call the desk"), "call the desk")
    it.taps.tap(it.phone.page.locator(".call-choices").get_by_role("button", name="hurts"), "hurts")
    expect(it.desk.page.locator("#queue > li.urgent")).to_have_count(1)
    it.demo.clear()


ACTIONS: dict[str, Callable[[Evening], None]] = {
    "done as suggested": _done,
    "done, with another figure": _another_figure,
    "done, the level read off the desk": _level_read_off,
    "set aside": _set_aside,
    "not done, with a reason": _not_done,
    "take the last answer back": _undo,
    "a level corrected from the desk": _corrected,
    "song runs, gap": _song_runs,
    "ask for somebody without a phone": _ask_for_somebody,
    "ask for more of a source": _ask,
    "take a request back": _take_back,
    "call the desk": _call,
}
"""In the order in which they are done; each waits until it has happened."""


def count(it: Evening) -> dict[str, list[str]]:
    """Do every action and return what each took."""
    took = {}
    for name, act in ACTIONS.items():
        it.keys.taken(), it.taps.taken()
        act(it)
        took[name] = it.keys.taken() or it.taps.taken()
    return took


def page_of(took: dict[str, list[str]]) -> str:
    """Return the table as it is committed."""
    return _HEAD + "".join(
        f"| {name} | {'phone' if _is_tapped(pressed) else 'desk'} | {_pressed(pressed)} | {len(pressed)} |\n"
        for name, pressed in took.items()
    )


def _is_tapped(pressed: list[str]) -> bool:
    return len(pressed[0]) > 1 and pressed[0] != "enter"


def _pressed(pressed: list[str]) -> str:
    return ", then ".join(pressed) if _is_tapped(pressed) else " ".join(f"`{key}`" for key in pressed)


def main() -> None:
    """Write the page anew."""
    with (
        tempfile.TemporaryDirectory() as folder,
        running_demo(Path(folder) / "data") as demo,
        sync_playwright() as playwright,
    ):
        browser = launch(playwright)
        pages = [browser.new_context().new_page() for _ in range(2)]
        for page, link, button in zip(
            pages, ("desk", "Bass"), ("open the desk", "yes, open my mix"), strict=True
        ):
            page.goto(demo.links[link])
            page.get_by_role("button", name=button).click()
            expect(page.locator("#line")).to_have_text("live")
        TABLE.write_text(page_of(count(evening_of(demo, Desk(pages[0]), Phone(pages[1])))), encoding="utf-8")
        browser.close()


if __name__ == "__main__":
    main()
