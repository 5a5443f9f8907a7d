"""A disk that fills up or is pulled out under a running server: reads go on, writes are refused, nothing is lost."""

import time
from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from monreq.cli import demo_show
from tests.support.disks import fill, plugged_in, small_disk
from tests.support.monreq_process import PATIENCE_S, Served, serving, token_in
from tests.support.workers import Listener

pytestmark = pytest.mark.faults

MIXES = len(demo_show.MIXES)


class Asking:
    """A phone that asks, and remembers what was taken."""

    def __init__(self, served: Served) -> None:
        self._served, self._token = served, token_in(served.phones["Bass"])
        self._numbers = count()
        self.taken: dict[str, Any] = {}

    def ask(self) -> int:
        """Ask for a little more and a little less in turn; returns the status."""
        number = next(self._numbers)
        body = {
            "client_id": f"ask-{number}",
            "kind": "sound",
            "source": "kick",
            "words": f"number {number} " + "boomy " * 10,
        }
        answer = self._served.api("/mixes/bass/requests", self._token, body)
        if answer.status_code == 201:
            self.taken[str(body["client_id"])] = answer.json()["request"]
            self._served.api(
                "/decisions",
                self._served.desk_token,
                {"requests": [answer.json()["request"]], "outcome": "not_done", "reason": "after_this_song"},
            )
        return answer.status_code

    def lost(self) -> list[str]:
        """Return what was taken and is not in the history, or more than once."""
        entries = self._served.read("/mixes/bass/history", self._token)["entries"]
        known = [one["requests"][0] for one in entries if one["what"] == "asked"]
        return [request for request in self.taken.values() if known.count(request) != 1]


def until(attempt: Callable[[], bool]) -> None:
    over = time.monotonic() + PATIENCE_S
    while not attempt():
        assert time.monotonic() < over
        time.sleep(0.1)


def told(desk: Listener) -> str:
    """Return the next news of the laptop on an open desk's page."""
    while True:
        fragments = desk.next_push()["fragments"]
        if "health" in fragments:
            return str(fragments["health"])


def test_disk_that_is_full_refuses_whole_and_recovers_alone(tmp_path: Path) -> None:
    with (
        small_disk(tmp_path / "disk", 3) as disk,
        serving("demo", disk / "data", MIXES, "--still") as served,
        Listener(served.url, "/desk", served.desk_token) as desk,
    ):
        (disk / "data" / "copies").mkdir()
        phone = Asking(served)
        before = [phone.ask() for _ in range(5)]
        ballast = fill(disk)
        until(lambda: phone.ask() == 503)
        news = told(desk)
        while "cannot be stored" not in news and "stored now" not in news:
            news = told(desk)
        reads = [served.api("/queue", served.desk_token).status_code for _ in range(5)]
        ballast.unlink()
        until(lambda: phone.ask() == 201)
        while "stored now" in news:
            news = told(desk)

        assert before == [201] * 5
        assert reads == [200] * 5
        assert phone.lost() == []
        assert served.stop().code == 0


def test_stick_that_is_pulled_out_stops_writing_and_works_again_once_it_is_back(tmp_path: Path) -> None:
    stick, socket = tmp_path / "stick", tmp_path / "socket"
    stick.mkdir()
    socket.mkdir()
    with plugged_in(stick, socket), serving("demo", socket / "data", MIXES, "--still") as served:
        phone = Asking(served)
        assert phone.ask() == 201
        with Listener(served.url, "/desk", served.desk_token) as desk:
            (stick / "data").rename(stick / "pulled out")
            refused = [phone.ask() for _ in range(3)]
            news = told(desk)
            reads = [served.api(path, served.desk_token).status_code for path in ("/queue", "/mixes")]

            (stick / "pulled out").rename(stick / "data")
            until(lambda: phone.ask() == 201)

            assert refused == [503] * 3
            assert "The database&#39;s file is gone." in news
            assert reads == [200, 200]
            assert phone.lost() == []
