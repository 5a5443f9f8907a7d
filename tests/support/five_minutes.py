"""From nothing to printed cards with the fewest actions, done and counted in a browser; what `docs/five-minutes.md` tells.

    python -m tests.support.five_minutes

writes that page anew, from a server and a browser of its own.
"""

import tempfile
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Locator, Page, expect, sync_playwright

from tests.support.chromium import launch
from tests.support.keys_and_taps import Counted
from tests.support.monreq_process import Served, serving
from tests.support.serving import ROOT

TABLE = ROOT / "docs" / "five-minutes.md"
AIM = 40
"""So many actions at most, with pasted lists."""

INPUTS = """1 Kick
2 Snare
3 Overheads L
4 Overheads R
5 Bass DI
6 Guitar
7 Keys L
8 Keys R
9 Lead voice
10 Bass voice
11 Click
12 Talkback"""

CHAIRS = """Lead voice: Ada, wedge, centre
Bass: Bo, wedge, left
Drums: Cy, in-ears, back
Guitar: Dee, wedge, right
Keys: Eva, in-ears, back right"""

_HEAD = """# Five minutes

What a band of five takes from an empty data folder to printed cards, counted while a browser does it: each click, each
press of a key, each text typed or pasted into a field is one. The two lists are pasted; everything else is as monreq starts it.
A test does it again and compares; `python -m tests.support.five_minutes` writes this page anew.

| step | how | actions |
|---|---|---|
"""
_TAIL = """
The lists that were pasted:

```
{inputs}
```

```
{chairs}
```
"""


@dataclass(frozen=True)
class Step:
    """What is done in one go, and what was pressed for it."""

    name: str
    pressed: tuple[str, ...]


class Preparing:
    """Hands at a desk that knows nothing yet."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.steps: list[Step] = []
        self._hands = Counted(page)

    def prepare(self, served: Served) -> bytes:
        """Do everything, step by step; returns the printed cards."""
        self._open(served)
        self._paste("the input list", "Input list, one source a line", INPUTS, "add these sources")
        self._paste("who plays, with mixes", "Who plays, one chair a line", CHAIRS, "add these chairs")
        self._press("groups", "make the group Drums", "make the group Voices")
        self._press("the stage plan", "put the others on stage")
        self._describe_the_desk()
        self._press("start mixes", "start with the own source forward")
        return self._print_cards()

    def _open(self, served: Served) -> None:
        self.page.goto(served.desk)
        self._hands.done += ["type `monreq serve`", "enter"]  # which opens the browser there
        self._click(self.page.get_by_role("button", name="open the desk"), "open the desk")
        expect(self.page.get_by_role("heading", name="Prepare")).to_be_visible()
        self._done("start")

    def _paste(self, step: str, label: str, lines: str, button: str) -> None:
        field = self.page.get_by_label(label)
        self._click(field, "into the field")
        self._type(lines, "paste")
        self._press(step, button)

    def _describe_the_desk(self) -> None:
        auxes = self.page.locator("#auxes")
        self._click(auxes.get_by_label("mono auxes", exact=True), "into mono auxes")
        self.page.keyboard.press("ControlOrMeta+a")
        self._hands.done.append("select all")
        self._type("4", "type 4")
        self._hands.keys("Tab")
        self._type("2", "type 2")
        self._press("the desk's auxes", "save the desk", "put the mixes on these auxes")

    def _print_cards(self) -> bytes:
        self._click(self.page.get_by_role("link", name="Codes and cards").first, "Codes and cards")
        self._click(self.page.get_by_label("Wi-Fi network", exact=True), "into Wi-Fi network")
        self._type("Harbour stage", "type it")
        self._hands.keys("Tab")
        self._type("twenty wedges", "type the password")
        self._click(self.page.get_by_role("button", name="put it on the cards"), "put it on the cards")
        cards = self.page.get_by_role("link", name="Cards to print (PDF)")
        answer = self.page.request.get(cards.evaluate("link => link.href"))
        self._hands.done += [
            "Cards to print (PDF)",
            "print",
        ]  # a browser without a screen has no viewer for it
        self._done("cards, with the code of the Wi-Fi")
        return answer.body()

    def _press(self, step: str, *buttons: str) -> None:
        for name in buttons:
            self._click(self.page.get_by_role("button", name=name, exact=True), name)
            expect(self.page.get_by_role("alert")).to_have_count(0)
        self._done(step)

    def _click(self, place: Locator, name: str) -> None:
        self._hands.tap(place, name)

    def _type(self, text: str, name: str) -> None:
        self.page.keyboard.insert_text(text)
        self._hands.done.append(name)

    def _done(self, step: str) -> None:
        self.steps.append(Step(step, tuple(self._hands.taken())))


def actions(steps: list[Step]) -> int:
    """Return how many actions it took in all."""
    return sum(len(step.pressed) for step in steps)


def page_of(steps: list[Step]) -> str:
    """Return the page as it is committed."""
    lines = "".join(f"| {one.name} | {', '.join(one.pressed)} | {len(one.pressed)} |\n" for one in steps)
    total = f"| **all** | | **{actions(steps)}** |\n"
    return _HEAD + lines + total + _TAIL.format(inputs=INPUTS, chairs=CHAIRS)


def main() -> None:
    """Write the page anew."""
    with (
        tempfile.TemporaryDirectory() as folder,
        serving("serve", Path(folder) / "data", 0) as served,
        sync_playwright() as playwright,
    ):
        browser = launch(playwright)
        hands = Preparing(browser.new_page())
        hands.prepare(served)
        TABLE.write_text(page_of(hands.steps), encoding="utf-8")
        browser.close()


if __name__ == "__main__":
    main()
