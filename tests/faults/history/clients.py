"""Random phones and two desks, over real HTTP; each does one thing after another, and repeats what got no answer."""

import random
import threading
from abc import ABC, abstractmethod
from typing import Any

import requests

from tests.faults.history.record import Call, End, History
from tests.support.links import Link

PATIENCE_S = 1.5  # chosen: shorter than the server is stopped for, so that clients do give up
PAUSE_S = (0.01, 0.08)

REFUSED = (409, 422, 429, 503)

MIXES = ("lead", "bass", "drums")
SOURCES = ("kick", "lead")


class House:
    """Where the server is just now, and the tokens, which outlive it."""

    def __init__(self, link: Link) -> None:
        self.link = link
        self.url, self.desk, self.phones = "", "", dict[str, str]()

    def send(self, call: Call) -> None:
        """Send a call and take down how it ended."""
        call.tries, call.status = call.tries + 1, 0
        token = self.phones[call.mix] if call.mix else self.desk
        try:
            answer = requests.post(
                f"{self.url}/api/v1{call.path}",
                json=call.body,
                headers={"Authorization": f"Bearer {token}"},
                timeout=PATIENCE_S,
            )
        except requests.RequestException:
            return
        call.status = answer.status_code
        if answer.ok:
            if call.end is End.OK:
                call.again.append(answer.json())
            else:
                call.end, call.answer = End.OK, answer.json()
        elif answer.status_code in REFUSED:
            # An earlier try of the same call may have been taken; a refusal of a later one says nothing about it.
            call.end = End.FAILED if call.tries == 1 else call.end
        else:
            raise AssertionError(f"{answer.status_code}: {answer.text}")

    def read(self, path: str, token: str) -> Any:
        return requests.get(
            f"{self.url}/api/v1{path}", headers={"Authorization": f"Bearer {token}"}, timeout=PATIENCE_S
        ).json()


class Client(threading.Thread, ABC):
    """One client, until it is told that it is over."""

    def __init__(self, house: House, history: History, name: str, chance: random.Random) -> None:
        super().__init__(name=name)
        self.house, self.history, self.chance = house, history, chance
        self.is_over = threading.Event()
        self.faults: list[BaseException] = []
        self.count = 0

    def run(self) -> None:
        self.house.link.enter()
        try:
            while not self.is_over.wait(self.chance.uniform(*PAUSE_S)):
                self.step()
                if self.history.calls and self.history.calls[-1].status == 0:
                    self.is_over.wait(0.3)  # as a page does that finds nobody: fewer calls are left unknown
        except BaseException as fault:  # noqa: BLE001 - told by the round that joins it
            self.faults.append(fault)

    @abstractmethod
    def step(self) -> None:
        """Do one thing."""

    def client_id(self) -> str:
        self.count += 1
        return f"{self.name}-{self.count}"


class Phone(Client):
    """Asks for one mix."""

    mix = ""

    def step(self) -> None:
        body = {
            "client_id": self.client_id(),
            "kind": "level",
            "source": self.chance.choice(SOURCES),
            "change_db": self.chance.choice((0.1, 0.2, 0.4, 0.8, 1.6)),
        }
        self.house.send(self.history.begin(Call(self.mix, f"/mixes/{self.mix}/requests", body)))


class Desk(Client):
    """Answers whatever row stands first, so that both desks want the same."""

    def step(self) -> None:
        try:
            rows = self.house.read("/queue", self.house.desk)["rows"]
        except (requests.RequestException, KeyError, ValueError):
            return
        if not rows:
            return
        body = {
            "client_id": self.client_id(),
            "requests": self.chance.choice(rows[:2])["requests"],
            "outcome": "not_done",
            "reason": "after_this_song",
        }
        self.house.send(self.history.begin(Call("", "/decisions", body)))
