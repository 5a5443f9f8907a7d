"""A live connection of a player's page: what is pushed to it, and whether the page ends as a fresh one would be."""

import re
import time
from typing import Any, Final

from flask_socketio import SocketIOTestClient

from tests.evenings.browser import Browser
from tests.evenings.found import Found
from tests.evenings.house import House
from tests.evenings.judges import privacy

_SHELL: Final = re.compile(r'<(li|tr|span|small) id="[^"]+"[^>]*></\1>')
_LOOKS: Final = 100  # chosen: ten seconds in all, for a push that waits for its turn
_BETWEEN_S: Final = 0.1


class Listener:
    """A page that listens."""

    def __init__(self, house: House, browser: Browser) -> None:
        self._house, self._browser = house, browser
        self._namespace = "/desk" if browser.mix is None else "/phone"
        self._home = "/desk" if browser.mix is None else f"/mix/{browser.mix}"
        self._connect()
        if not self._client.is_connected(self._namespace):
            raise Found("live", f"{browser.who} was not let in")

    def _connect(self) -> None:
        """Connect as a page does that was loaded now."""
        self._places: dict[str, str] = {}
        self._at, self._language = (0, 0), self._browser.spoken
        self._client = SocketIOTestClient(
            self._house.monreq.flask,
            self._house.monreq.socketio,
            namespace=self._namespace,
            auth={"mix": self._browser.mix or "", "language": self._language},
            flask_test_client=self._browser.client,
        )

    def say_here(self) -> None:
        """Say that the page is there, awake."""
        if self._client.is_connected(self._namespace):
            said = {"page": self._browser.who.replace(" ", "-"), "is_awake": True}
            self._client.emit("here", said, namespace=self._namespace)

    def listen(self) -> None:
        """Take what came meanwhile; a page in another language was loaded anew."""
        if self._language != self._browser.spoken:
            self.leave()
            self._connect()
        for one in self._client.get_received(self._namespace):
            told: Any = one["args"][0] if one["args"] else {}
            if one["name"] == "changed":
                self._take(told)
            elif one["name"] == "at":
                self._at = _at(told)

    def settle(self) -> None:
        """Wait until nothing is on its way, and compare with what a fresh page would show.

        Raises:
            Found: A place that was pushed differs, or the last push never came.
        """
        answer = self._browser.fetch(f"{self._home}/places")
        if answer.status_code != 200 or not self._client.is_connected(self._namespace):
            return
        now: Any = answer.get_json()
        for _ in range(_LOOKS):
            self.listen()
            if self._at >= _at(now):
                break
            time.sleep(_BETWEEN_S)
        else:
            who = self._browser.who
            raise Found("live", f"{who} was pushed up to {self._at}, the show is at {_at(now)}")
        self._compare("\n".join(now["fragments"].values()))

    def leave(self) -> None:
        """Close the page."""
        if self._client.is_connected(self._namespace):
            self._client.disconnect(self._namespace)

    def _take(self, told: Any) -> None:
        self._at = max(self._at, _at(told))
        self._places.update(told["fragments"])
        mix, show = self._browser.mix, self._house.show(self._browser.show_id)
        if mix is not None and mix in show.mixes:
            privacy.check(show, mix, "\n".join(told["fragments"].values()))

    def _compare(self, fresh: str) -> None:
        for place, drawn in self._places.items():
            is_there = f'id="{place}"' in fresh
            if is_there and not _SHELL.search(drawn) and drawn not in fresh:
                raise Found("live", f"{self._browser.who} was pushed {drawn[:200]!r}, a fresh page differs")


def _at(told: Any) -> tuple[int, int]:
    """Return the revision that something is told of, and as of when; a phone's places are told as of no moment."""
    return told["revision"], told.get("as_of", 0)
