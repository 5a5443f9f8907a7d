"""What a person does on a page of monreq, and where a person looks."""

import re

from playwright.sync_api import Locator, Page, expect


def figures(words: str) -> str:
    """Write figures as pages do, with a true minus."""
    return re.sub(r"-(?=\d)", "\N{MINUS SIGN}", words)


class Phone:
    """A musician's phone with a mix open."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def ask(self, words: str) -> None:
        """Press a button by what it is called: more Kick, take out Click; a folded group around it is opened first."""
        self._open_group(self.page.locator(f'.group button[aria-label="{figures(words)}"]'))
        self.button(words).click()

    def button(self, words: str) -> Locator:
        """Where a button is."""
        return self.page.get_by_role("button", name=figures(words), exact=True)

    def choose(self, amount: str) -> None:
        """Choose an amount: a touch, some, a lot."""
        self.page.get_by_text(amount, exact=False).locator("visible=true").first.click()

    def unfold(self, source: str) -> None:
        """Open what else can be asked of a source."""
        self.reveal(source)
        self.tape(source).click()

    def reveal(self, source: str) -> None:
        """Open the group that a source stands in, if it is folded."""
        self._open_group(self.tape(source))

    def _open_group(self, inside: Locator) -> None:
        """Open the group that something stands in, if it is folded; its own strip is seen either way."""
        if inside.count() == 1 and not inside.is_visible():
            inside.locator("xpath=ancestor::li[contains(@class, 'group')]").locator(
                "summary.tape"
            ).first.click()

    def tape(self, source: str) -> Locator:
        """Where the name of a source stands, with what waits and what was done."""
        return self.page.locator("summary.tape", has=self.page.get_by_text(source, exact=True))

    @property
    def calls(self) -> Locator:
        """Where it stands what became of a call."""
        return self.page.locator("#calls")

    @property
    def whole(self) -> Locator:
        """Where it stands what became of whole-mix requests."""
        return self.page.locator("#whole")

    @property
    def line(self) -> Locator:
        """The status line."""
        return self.page.locator("#line")

    def call(self, call: str) -> None:
        """Call the desk: two taps, or one where the choices are still open."""
        if self.page.locator("details.call").get_attribute("open") is None:
            self.page.get_by_text("Call the desk").click()
        self.page.locator(".call-choices").get_by_role("button", name=call).click()

    def sees(self, source: str, *lines: str) -> None:
        """Wait until the tape of a source says exactly this under its name."""
        expect(self.tape(source).locator("small")).to_have_text([figures(line) for line in lines])


class Desk:
    """A desk with the queue open."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def row(self, mix: str, source: str = "", kind: str = "level") -> "Row":
        """One row of the queue, by ids."""
        return Row(self.page.locator(f"#row-{mix}-{source}-{kind}"))

    @property
    def rows(self) -> Locator:
        """All rows of the queue."""
        return self.page.locator("#queue > li[data-row]")

    @property
    def last_answers(self) -> Locator:
        """What was answered last."""
        return self.page.locator("#decisions > li > span")

    @property
    def not_sent(self) -> Locator:
        """Where it stands why an answer was not taken."""
        return self.page.locator("#not-sent")

    @property
    def line(self) -> Locator:
        """The status line."""
        return self.page.locator("#line")

    def press(self, *keys: str) -> None:
        """Press keys, one after another."""
        for key in keys:
            self.page.keyboard.press(key)

    def type(self, text: str) -> None:
        """Type as fingers do."""
        self.page.keyboard.type(text)


class Row:
    """A row of the queue."""

    def __init__(self, place: Locator) -> None:
        self.place = place

    @property
    def sum(self) -> Locator:
        """The sum of what is asked."""
        return self.place.locator(".sum")

    @property
    def set_to(self) -> Locator:
        """From where to where to set."""
        return self.place.locator(".set")

    @property
    def figure(self) -> Locator:
        """Where another figure is typed."""
        return self.place.get_by_label("done or level")

    def press(self, words: str) -> None:
        """Press one of its buttons with the mouse."""
        self.place.get_by_role("button", name=words).click()

    def shows(self, sum_: str, set_to: str, *, cautions: list[str] | None = None) -> None:
        """Wait until it shows these figures, and exactly these cautions."""
        expect(self.sum).to_have_text(figures(sum_))
        expect(self.set_to).to_have_text(figures(set_to))
        expect(self.place.locator(".hand")).to_have_text(cautions or [])

    def is_gone(self) -> None:
        """Wait until it is not in the queue any more."""
        expect(self.place).to_have_count(0)

    def is_current(self) -> None:
        """Wait until keys act on it."""
        expect(self.place).to_contain_class("now")
        expect(self.place).not_to_contain_class("settling")
