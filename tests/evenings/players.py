"""Who plays: desks, phones and the stage tablet, each with a browser, a language, and what a person has."""

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Mapping
from typing import Final

from tests.evenings.browser import Browser, Judges, Page
from tests.evenings.forms import Button, Form
from tests.evenings.found import Found
from tests.evenings.house import House
from tests.evenings.writing import filled

Choice = tuple[Form, Button]

ENDS: Final = frozenset({
    "afterwards.close_show", "bands.remove_band", "book_merging.merge_both", "codes.replace", "codes.replace_desk",
    "keeping.remove_kept", "passphrase.remove_passphrase", "passphrase.set_passphrase", "prepare.begin_next_show",
    "prepare.remove_mix", "prepare.remove_musician", "prepare.remove_source", "prepare.put_mix",
    "groups.remove_group", "levels.take_off_list",
})  # fmt: skip
"""What nobody presses idly: it takes something away."""


class Player(ABC):
    """Somebody with a browser.

    Attributes:
        page: What they look at; it may be old.
    """

    def __init__(self, house: House, judges: Judges, who: str, language: str) -> None:
        self.house, self.dice = house, house.dice
        self.browser = Browser(house, judges, who, language)
        self.page = Page("", 0, "")

    def go(self, path: str) -> Page:
        """Open a page; the one that was drawn just now, with nobody doing anything since, is looked at as it is."""
        is_fresh = self.page.path == path and self.page.drawn_at == self.house.trail.count
        if not is_fresh or self.page.is_out:
            self.page = self.browser.get(path)
        return self.page

    def find(self, endpoint: str, verb: str = "", value: str = "") -> Choice:
        """Find a button on the page by where its form leads, and what it does.

        Raises:
            Found: The page has none.
        """
        for form, button in self.choices():
            is_it = self._leads_to(form, button) == endpoint and (not verb or button.verb == verb)
            if is_it and (not value or button.value == value or value in form.action):
                return form, button
        raise Found("forms", f"{self.page.path} ({self.page.status}) has no button {verb!r} to {endpoint}")

    def has(self, endpoint: str, verb: str = "") -> bool:
        """Whether the page has such a button."""
        return any(
            self._leads_to(form, button) == endpoint and verb in ("", button.verb)
            for form, button in self.choices()
        )

    def choices(self) -> list[Choice]:
        """Return every button of the page with its form."""
        return [(form, button) for form in self.page.forms for button in form.buttons]

    def press(self, choice: Choice, **typed: str | list[str]) -> Page:
        """Press a button, with some fields filled in."""
        self.page = self.browser.press(*choice, typed)
        return self.page

    def rarest(self, choices: Iterable[Choice]) -> Choice:
        """Choose what was pressed least in this evening; among equals by chance."""
        pressed = self.house.reached.forms
        known = [(pressed[self._leads_to(*one), one[1].verb], self.dice.random(), one) for one in choices]
        return min(known, key=lambda one: one[:2])[2]

    def _leads_to(self, form: Form, button: Button) -> str:
        return self.house.endpoint(form.method, button.leads_to or form.action)

    def wander(self, avoided: frozenset[str] = ENDS, odd: float = 0.06) -> None:
        """Press something on the page that they look at, or go on by a link."""
        presses = [one for one in self.choices() if self._leads_to(*one) not in avoided]
        if presses and self.dice.random() < 0.6:
            form, button = self.rarest(presses)
            self.page = self.browser.press(form, button, self._written(form, button, odd))
        else:
            self.follow()

    def _written(self, form: Form, button: Button, odd: float) -> Mapping[str, str | list[str]]:
        own = button.value.partition(":")[2].partition(":")[0]
        typed = filled(form, self.dice, odd)
        return {
            name: value for name, value in typed.items() if "row-" not in name or name.startswith(f"{own}-")
        }

    def follow(self) -> None:
        """Follow a link that was followed least."""
        walked, known = self.house.reached.routes, []
        for link in self.page.read.links:
            endpoint = self.house.endpoint("GET", link) if link.startswith("/") else ""
            if endpoint and endpoint not in _HEAVY:
                known.append((walked["GET", endpoint], self.dice.random(), link))
        self.go(min(known)[2] if known else self.home())

    @abstractmethod
    def home(self) -> str:
        """Where they begin."""


_HEAVY: Final = frozenset({"codes.cards", "sheets.send_sheets", "static", "books.download"})


class Desk(Player):
    """An engineer at the desk of a show."""

    def __init__(self, house: House, judges: Judges, show_id: str, who: str, language: str) -> None:
        super().__init__(house, judges, who, language)
        self.browser.show_id = show_id

    def home(self) -> str:
        return "/desk"

    def come(self) -> Page:
        """Open the desk's link and confirm."""
        path = self.house.path(self.browser.show_id, None)
        self.browser.bearer = path.rpartition("/")[2]
        self.go(path)
        if self.has("entry.confirm"):
            self.press(self.find("entry.confirm"))
        return self.page

    def go(self, path: str) -> Page:
        """Open a page; who was put out opens the desk's link first."""
        page = super().go(path)
        if page.is_out and page.status != 404:
            self.come()
            page = super().go(path)
        return page

    def rows(self, *verbs: str) -> list[Choice]:
        """Return the buttons of rows on the page, those that do certain things if any are named."""
        found = [one for one in self.choices() if "row-" in one[1].value]
        return [one for one in found if not verbs or one[1].verb in verbs]

    def answer(self, *verbs: str) -> bool:
        """Answer some row in some way; whether there was one."""
        self.go("/desk")
        choices = self.rows(*verbs)
        if not choices:
            return False
        form, button = self.rarest(choices)
        self.page = self.browser.press(form, button, self._written(form, button, 0.05))
        asked = [one for one in self.choices() if self._leads_to(*one) == "desk.answer" and not one[1].verb]
        if asked:
            self.press(asked[0])  # what was typed made little sense: it is meant so
        return True

    def do(self, verb: str, value: str = "", **typed: str | list[str]) -> bool:
        """Press a button of the queue's page; whether it is there."""
        self.go("/desk")
        found = [one for one in self.choices() if one[1].verb == verb and value in one[1].value]
        if found:
            self.press(self.dice.choice(found), **typed)
        return bool(found)


class Phone(Player):
    """A musician's phone."""

    def __init__(
        self, house: House, judges: Judges, place: tuple[str, str, str], who: str, language: str
    ) -> None:
        """Take a show, a mix of it, and one of its musicians."""
        super().__init__(house, judges, who, language)
        self.browser.show_id, self.mix, self.browser.musician = place

    def home(self) -> str:
        return f"/mix/{self.mix}"

    def scan(self) -> Page:
        """Scan the card, and say who one is."""
        path = self.house.path(self.browser.show_id, self.mix)
        self.browser.bearer = path.rpartition("/")[2]
        self.browser.mix = None
        self.go(path)
        self.browser.mix = self.mix
        if self.has("entry.confirm"):
            self.press(self._myself())
        return self.page

    def _myself(self) -> Choice:
        own = [one for one in self.choices() if one[1].value in ("", self.browser.musician)]
        return own[0] if own else self.choices()[0]

    def wake(self) -> bool:
        """Look at the mix again; scan once more if the card was replaced. Whether it opens."""
        page = self.go(self.home())
        if page.is_out and self.mix in self.house.show(self.browser.show_id).mixes:
            page = self.scan()
        return not page.is_out

    def tap(self, weigh: Callable[[Button], float]) -> None:
        """Press a button of the page as it is looked at, old or not."""
        buttons = [one for one in self.choices() if self._leads_to(*one) == "phone.ask"]
        if not buttons:
            return
        weights = [weigh(button) for _, button in buttons]
        if sum(weights) > 0:
            form, button = self.dice.choices(buttons, weights)[0]
            self.page = self.browser.press(form, button, filled(form, self.dice, 0.02, 0.3))

    def pry(self, other: str) -> None:
        """Try for somebody else's mix.

        Raises:
            Found: It opened.
        """
        answers = [self.browser.fetch(f"/mix/{other}").status_code, self.browser.fetch("/desk").status_code]
        answers += [self.browser.call("GET", path)[0] for path in (f"/mixes/{other}", "/queue")]
        if any(status < 400 for status in answers):
            raise Found("privacy", f"{self.browser.who} of {self.mix} opened {other} or the desk: {answers}")


class Tablet(Player):
    """The tablet at the side of the stage."""

    def __init__(self, house: House, judges: Judges, show_id: str, language: str) -> None:
        super().__init__(house, judges, "tablet", language)
        self.browser.show_id = show_id

    def home(self) -> str:
        return "/tablet"

    def set_up(self, codes: Page) -> None:
        """Open the tablet's link as the page of codes has it."""
        self.browser.mix, self.browser.musician = None, ""
        link = next(one for one in codes.read.links if "/tablet/open/" in one)
        self.go(link[link.index("/tablet/open/") :])
        if self.has("tablet.confirm"):
            self.press(self.find("tablet.confirm"))

    def ask(self) -> None:
        """Pick somebody, ask for something, and go."""
        self.browser.mix, self.browser.musician = None, ""
        self.go("/tablet")
        if not self.has("tablet.pick"):
            return
        form, button = self.dice.choice([one for one in self.choices() if one[1].name == "musician"])
        mix = form.value("mix")
        self.page = self.browser.press(form, button)
        self.browser.mix, self.browser.musician = mix, button.value
        asks = [one for one in self.choices() if self._leads_to(*one) == "phone.ask"]
        if asks:
            self.press(self.rarest(asks))


def weighted(verbs: Mapping[str, float], otherwise: float) -> Callable[[Button], float]:
    """Return what weighs buttons by the first word of what they do."""
    return lambda button: verbs.get(button.verb.partition("-")[0], otherwise)
