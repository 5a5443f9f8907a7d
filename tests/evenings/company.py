"""Everybody of an evening: two desks, the phones, the tablet, and a second stage on the same data."""

from collections.abc import Iterator
from typing import Final

from monreq.web.speech import LANGUAGES
from tests.evenings.bench import Bench
from tests.evenings.house import FRIDAY, OTHER_STAGE, House
from tests.evenings.listener import Listener
from tests.evenings.players import Desk, Phone, Tablet

_CODES: Final = list(LANGUAGES)


class Company:
    """The players of one evening.

    Attributes:
        desk, second: Both at Friday's desk.
        elsewhere: At the desk of another show on the same data.
    """

    def __init__(self, house: House, bench: Bench) -> None:
        self.house, self.bench, self.dice = house, bench, house.dice
        self.languages = self._languages()
        self.desk = self._desk(FRIDAY, "desk")
        self.second = self._desk(FRIDAY, "second desk")
        self.elsewhere = self._desk(OTHER_STAGE, "desk elsewhere")
        self.tablet = Tablet(house, bench, FRIDAY, next(self.languages))
        self.phones: list[Phone] = []
        self.listeners: list[Listener] = []

    def _languages(self) -> Iterator[str]:
        while True:
            yield from self.dice.sample(_CODES, len(_CODES))

    def _desk(self, show_id: str, who: str) -> Desk:
        return Desk(self.house, self.bench, show_id, who, next(self.languages))

    def phones_of(self, show_id: str) -> list[Phone]:
        """Make a phone for everybody who hears a mix of a show, and scan."""
        show = self.house.show(show_id)
        made: list[Phone] = []
        for mix in show.mixes.values():
            for musician in mix.musicians:
                who = f"phone {len(self.phones) + len(made) + 1}"
                phone = Phone(self.house, self.bench, (show_id, mix.id, musician), who, next(self.languages))
                phone.scan()
                made.append(phone)
        return made

    def connect(self) -> None:
        """Let the desks and some phones listen."""
        self.listeners = [
            Listener(self.house, one.browser)
            for one in (self.desk, self.second, *self.phones[::2])
            if not one.page.is_out
        ]

    def listen(self) -> None:
        """Let all who listen take what came."""
        for one in self.listeners:
            one.say_here()
            one.listen()

    def settle(self) -> None:
        """Compare all pages that listen with fresh ones, and both shows with their accounts."""
        for one in self.listeners:
            one.settle()
        for desk in (self.desk, self.elsewhere):
            self.bench.compare(desk.browser)

    def disconnect(self) -> None:
        """Close all pages that listen."""
        for one in self.listeners:
            one.leave()
        self.listeners = []
