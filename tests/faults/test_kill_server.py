"""A whole server killed at any moment under requests over HTTP: what was answered is there, once, and answered again."""

import random
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from typing import Any

import pytest
import requests

from monreq.cli import demo_show
from tests.support.monreq_process import PATIENCE_S, Served, serving, token_in

pytestmark = pytest.mark.faults

ROUNDS = 5
SEED = 20261125
MIXES = {"bass": "Bass", "drums": "Drums", "guitar": "Guitar"}

Body = dict[str, object]


class Phone(threading.Thread):
    """Asks for one mix, one request after another, until nobody answers.

    Attributes:
        answered: Every body that was answered with 2xx, and the answer, by client id.
    """

    def __init__(self, served: Served, mix: str, name: str, enough: threading.Event, chance: int) -> None:
        super().__init__(name=name)
        self._served, self._mix, self._name = served, mix, name
        self._token = token_in(served.phones[MIXES[mix]])
        self._enough, self._chance = enough, random.Random(chance)
        self.answered: dict[str, tuple[Body, Any]] = {}

    def run(self) -> None:
        for number in count():
            body: Body = {
                "client_id": f"{self._name}-{number}",
                "kind": "level",
                "source": self._chance.choice(("kick", "lead")),
                "change_db": self._chance.choice((1.5, 2, 0.1)),
            }
            try:
                answer = self._served.api(f"/mixes/{self._mix}/requests", self._token, body)
            except requests.RequestException:
                return
            if answer.status_code == 201:
                self.answered[str(body["client_id"])] = (body, answer.json())
            if len(self.answered) >= 5:
                self._enough.set()


@contextmanager
def demo(folder: Path) -> Iterator[Served]:
    with serving("demo", folder, len(demo_show.MIXES), "--still") as served:
        yield served


def test_server_killed_under_requests_loses_and_doubles_nothing(tmp_path: Path) -> None:
    chance = random.Random(SEED)
    answered: dict[str, dict[str, tuple[Body, Any]]] = {mix: {} for mix in MIXES}

    for number in range(ROUNDS):
        with demo(tmp_path) as served:
            _check(served, answered)
            _withdraw_all(served)
            fresh = _ask_until_killed(served, f"round{number}", chance)
        for mix, taken in fresh.items():
            answered[mix].update(taken)

    with demo(tmp_path) as served:
        _check(served, answered)
    assert sum(map(len, answered.values())) >= 5 * ROUNDS


def _ask_until_killed(
    served: Served, name: str, chance: random.Random
) -> dict[str, dict[str, tuple[Body, Any]]]:
    """Let phones ask, and kill the server at some moment after it began to answer."""
    enough = threading.Event()
    phones = {mix: Phone(served, mix, f"{name}-{mix}", enough, chance.randrange(1 << 30)) for mix in MIXES}
    for phone in phones.values():
        phone.start()
    assert enough.wait(PATIENCE_S)
    threading.Event().wait(chance.uniform(0, 0.2))
    served.process.kill()
    for phone in phones.values():
        phone.join(PATIENCE_S)
    return {mix: phone.answered for mix, phone in phones.items()}


def _check(served: Served, answered: dict[str, dict[str, tuple[Body, Any]]]) -> None:
    for mix, taken in answered.items():
        token = token_in(served.phones[MIXES[mix]])
        asked = [one for one in _history(served, mix, token) if one["what"] == "asked"]
        known = [one["requests"][0] for one in asked]

        replayed = {
            client: served.api(f"/mixes/{mix}/requests", token, body)
            for client, (body, _) in list(taken.items())[-5:]
        }

        assert [one["request"] for _, one in taken.values() if known.count(one["request"]) != 1] == []
        assert {client: one.status_code for client, one in replayed.items()} == dict.fromkeys(replayed, 200)
        assert {client: one.json() for client, one in replayed.items()} == {
            client: taken[client][1] for client in replayed
        }
        assert [one for one in _history(served, mix, token) if one["what"] == "asked"] == asked


def _history(served: Served, mix: str, token: str) -> list[Any]:
    entries: list[Any] = served.read(f"/mixes/{mix}/history", token)["entries"]
    return entries


def _withdraw_all(served: Served) -> None:
    """Make room: only so many may wait."""
    for row in served.read("/queue")["rows"]:
        answer = served.api(
            "/decisions",
            served.desk_token,
            {"requests": row["requests"], "outcome": "not_done", "reason": "after_this_song"},
        )
        assert answer.status_code == 200, answer.text
