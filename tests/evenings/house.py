"""One real server of an evening, in this process, with what listens at its log and at its events."""

import logging
import random
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from werkzeug.exceptions import HTTPException

from monreq.app import Monreq
from monreq.domain import commands as c
from monreq.domain.events import Recorded
from monreq.domain.show import Show
from tests.evenings.clock import Chance, Clock, ruled
from tests.evenings.coverage import Reached, routes_of
from tests.evenings.found import Found, Trail
from tests.support.evening import start

FRIDAY, OTHER_STAGE = "frid", "othr"
"""Two shows on the same data, open at once."""


class Complaints(logging.Handler):
    """Takes down whatever is logged as an error, by whichever thread."""

    def __init__(self) -> None:
        super().__init__(logging.ERROR)
        self.lines: list[str] = []
        self.setFormatter(logging.Formatter("%(name)s: %(message)s"))

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(self.format(record))


class House:
    """The server, its clock, and what was seen of it.

    Attributes:
        dice: All chance of the players.
    """

    def __init__(self, monreq: Monreq, clock: Clock, seed: int) -> None:
        self.monreq, self.clock, self.seed = monreq, clock, seed
        self.dice = random.Random(f"players {seed}")
        self.reached = Reached(routes_of(monreq.flask), evenings=1)
        self.trail, self.complaints = Trail(), Complaints()
        self._told: dict[str, int] = {}
        self._urls = monreq.flask.url_map.bind("")
        self._endpoints: dict[tuple[str, str], str] = {}

    def show(self, show_id: str) -> Show:
        return self.monreq.shows.state(show_id)

    def shows(self) -> list[str]:
        return [entry.id for entry in self.monreq.shows.entries()]

    def path(self, show_id: str, mix: str | None) -> str:
        """Return the path that a code carries now."""
        return self.monreq.link(self.show(show_id), mix, "")

    def endpoint(self, method: str, path: str) -> str:
        """Return which route an address leads to; empty if none."""
        key = (method, path.partition("?")[0].partition("#")[0])
        if key not in self._endpoints:
            self._endpoints[key] = self._matched(*key)
        return self._endpoints[key]

    def _matched(self, method: str, path: str) -> str:
        try:
            found = self._urls.match(path, method)
        except HTTPException:
            return ""
        return str(found[0])

    def news(self) -> dict[str, list[Recorded]]:
        """Return what was recorded since the last call, by show."""
        found = {}
        for show_id in self.shows():
            known, now = self._told.get(show_id, 0), self.show(show_id).revision
            if now > known:
                found[show_id] = self.monreq.shows.since(show_id, known, now)
                self._told[show_id] = now
        for recorded in (one for events in found.values() for one in events):
            self.reached.events[type(recorded.event).__name__] += 1
        return found

    def check_log(self) -> None:
        """Find fault with whatever was logged as an error."""
        if self.complaints.lines:
            raise Found("errors", f"logged: {self.complaints.lines[0]}")


@contextmanager
def house(folder: Path, seed: int) -> Iterator[House]:
    """Serve two shows from a folder, for one evening."""
    clock = Clock()
    with ruled(clock, Chance(seed)):
        made = House(start(folder), clock, seed)
        logging.getLogger().addHandler(made.complaints)
        try:
            for show_id, name in ((FRIDAY, "Friday"), (OTHER_STAGE, "Other stage")):
                made.monreq.shows.open(show_id, c.OpenShow(name))
            yield made
        finally:
            logging.getLogger().removeHandler(made.complaints)
            made.monreq.close()
