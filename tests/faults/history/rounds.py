"""Rounds: clients at work, something evil meanwhile, then quiet, everything unknown asked again, and the judgement."""

import random
import signal
import sqlite3
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

import requests

from monreq.cli import demo_show
from tests.faults.history import judge
from tests.faults.history.clients import MIXES, Client, Desk, House, Phone
from tests.faults.history.pages import Page
from tests.faults.history.record import Call, End, History
from tests.support.disks import fill
from tests.support.links import Link
from tests.support.monreq_process import PATIENCE_S, Served, serving, token_in

DISK_MEGABYTES: Final = 24  # chosen: room for a server's own files and a round's requests
EVERYWHERE: Final = "0.0.0.0"  # noqa: S104 - phones come by a link, the judge by this machine itself
TOO_FAST: Final = 429
NAMES: Final = {mix.id: mix.name for mix in demo_show.MIXES}


@dataclass
class Tally:
    """What all rounds came to.

    Attributes:
        tried: Calls that were begun.
        unknown: Calls that got no answer at first.
        pushes: What pages heard over their live connections.
        back_s: How long it took from a kill until the server answered again, each time. [s]
    """

    rounds: int = 0
    tried: int = 0
    acknowledged: int = 0
    unknown: int = 0
    pushes: int = 0
    evils: Counter[str] = field(default_factory=Counter)
    back_s: list[float] = field(default_factory=list)


class Stage:
    """A server on a folder of a small disk, behind a link: it can be killed, stopped, left without room and cut off."""

    def __init__(self, disk: Path, link: Link, chance: random.Random) -> None:
        self.disk, self.link, self.chance = disk, link, chance
        self.house, self.tally = House(link), Tally()
        self._port = "0"
        self._known: dict[str, list[str]] = {}
        self._serving: Any = None
        self.served: Served = self._start()
        self._known = self._requests()
        self.pages = [Page(self.house, mix) for mix in MIXES]
        for page in self.pages:
            page.start()

    def _start(self) -> Served:
        self._serving = serving(
            "demo", self.disk / "data", len(NAMES), "--still", "--host", EVERYWHERE, "--port", self._port
        )
        served: Served = self._serving.__enter__()
        self.served = served
        self._port = served.url.rpartition(":")[2]
        self.house.url, self.house.desk = f"http://{self.link.here}:{self._port}", served.desk_token
        self.house.phones = {mix: token_in(served.phones[NAMES[mix]]) for mix in MIXES}
        return served

    def close(self) -> None:
        for page in self.pages:
            page.close()
        self._end()

    def _end(self) -> None:
        self._serving.__exit__(None, None, None)

    def kill(self) -> None:
        """Kill it at once, and start it again on what is left."""
        began = time.monotonic()
        self.served.process.kill()
        self._end()
        self._start()
        self.tally.back_s.append(time.monotonic() - began)

    def stop(self) -> None:
        """Stop it for longer than clients wait, as a laptop does whose lid is shut."""
        self.served.process.send_signal(signal.SIGSTOP)
        time.sleep(self.chance.uniform(0.1, 1.8))
        self.served.process.send_signal(signal.SIGCONT)

    def fill(self) -> None:
        """Take all room on the disk for a while."""
        ballast = fill(self.disk)
        time.sleep(self.chance.uniform(0.2, 0.5))
        ballast.unlink()

    def cut(self) -> None:
        """Let nothing through between clients and server for longer than clients wait."""
        self.link.cut()
        time.sleep(self.chance.uniform(0.5, 2.0))
        self.link.mend()

    def round(self, number: int) -> None:
        """Play one round and judge it.

        Raises:
            AssertionError: An invariant was broken.
        """
        history = History()
        clients = self._clients(history, number)
        for client in clients:
            client.start()
        time.sleep(self.chance.uniform(0.15, 0.4))
        evils: tuple[Callable[[], None], ...] = (self.stop, self.fill, self.kill, self.cut, self.cut)
        evil = evils[number % len(evils)]
        evil()
        time.sleep(self.chance.uniform(0.1, 0.3))
        for client in clients:
            client.is_over.set()
        for client in clients:
            client.join(PATIENCE_S)
            assert client.faults == []
        self.tally.evils[evil.__name__] += 1
        self.tally.unknown += sum(call.end is End.UNKNOWN for call in history.calls)
        self._answer_all(history, f"n{number}-all")
        self._resolve(history)
        self._answer_all(history, f"n{number}-all")
        self._judge(history)
        self._judge_pages()
        self._count(history)

    def _clients(self, history: History, number: int) -> list[Client]:
        def chance() -> random.Random:
            return random.Random(self.chance.randrange(1 << 30))

        clients: list[Client] = [
            Desk(self.house, history, f"n{number}-desk{one}", chance()) for one in (1, 2)
        ]
        for mix in MIXES:
            phone = Phone(self.house, history, f"n{number}-{mix}", chance())
            phone.mix = mix
            clients.append(phone)
        return clients

    def _count(self, history: History) -> None:
        self.tally.rounds += 1
        self.tally.tried += len(history.calls)
        self.tally.acknowledged += sum(call.end is End.OK for call in history.calls)

    def _resolve(self, history: History) -> None:
        """Send what got no answer again, as phones do, and some of what did, as a double tap does."""
        for number, call in enumerate([one for one in history.calls if one.end is End.UNKNOWN]):
            self._until_answered(call)
            if number % 20 == 19:
                self._answer_all(history, f"{call.body['client_id']}-then")
        for call in [one for one in history.calls if one.end is End.OK][-5:]:
            self.house.send(call)

    def _until_answered(self, call: Call) -> None:
        over = time.monotonic() + PATIENCE_S
        while call.end is End.UNKNOWN and time.monotonic() < over:
            self.house.send(call)
            if call.status in (409, 422):
                call.end = End.FAILED  # what was taken before would have been answered as before
            time.sleep(0.02)
        assert call.end is not End.UNKNOWN, call

    def _answer_all(self, history: History, name: str) -> None:
        """Leave nothing waiting, as a desk does in a long gap: only so many may wait."""
        while rows := self._read("/queue")["rows"]:
            for row in rows:
                body = {"requests": row["requests"], "outcome": "not_done", "reason": "after_this_song"}
                client_id = f"{name}-{len(history.calls)}"
                call = history.begin(Call("", "/decisions", {"client_id": client_id, **body}))
                self._until_answered(call)

    def _judge(self, history: History) -> None:
        now = self._requests()
        fresh = {mix: now[mix][len(self._known[mix]) :] for mix in MIXES}
        assert {mix: now[mix][: len(self._known[mix])] for mix in MIXES} == self._known
        entries = [entry for mix in MIXES for entry in self._entries(mix)]
        assert judge.lost(history, fresh) == []
        assert judge.doubled(history, fresh) == []
        assert judge.answered_twice(history, entries) == []
        assert judge.decisions_lost(history, entries) == []
        for mix in MIXES:
            assert judge.out_of_order(self._entries(mix)) == []
            assert self._status("/queue", mix) == 403
            others = [other for other in MIXES if other != mix]
            denied = [self._status(f"/mixes/{one}", mix) for one in others]
            assert denied == [403] * len(others)
        assert whole(self.disk / "data" / "monreq.sqlite") == ["ok"]
        self._known = now

    def _judge_pages(self) -> None:
        """Every page, whatever it missed, ends at what a fresh read gives, and never went back."""
        for page in self.pages:
            assert page.faults == []
            fresh = self._read(f"/mixes/{page.mix}", self.house.phones[page.mix]) | {"revision": None}
            over = time.monotonic() + PATIENCE_S
            while page.shown != fresh and time.monotonic() < over:
                time.sleep(0.05)
            assert page.shown == fresh
        self.tally.pushes = sum(page.pushes for page in self.pages)

    def _requests(self) -> dict[str, list[str]]:
        return {
            mix: [entry["requests"][0] for entry in self._entries(mix) if entry["what"] == "asked"]
            for mix in MIXES
        }

    def _read(self, path: str, token: str | None = None) -> Any:
        """Read for the judgement, which asks for more at once than anybody looks at."""
        answer = self._answer(path, token or self.served.desk_token)
        assert answer.status_code == 200, answer.text
        return answer.json()

    def _status(self, path: str, mix: str) -> int:
        return self._answer(path, self.house.phones[mix]).status_code

    def _answer(self, path: str, token: str) -> requests.Response:
        over = time.monotonic() + PATIENCE_S
        while (answer := self.served.api(path, token)).status_code == TOO_FAST:
            assert time.monotonic() < over
            time.sleep(0.2)
        return answer

    def _entries(self, mix: str) -> list[Any]:
        entries: list[Any] = self._read(f"/mixes/{mix}/history", self.house.phones[mix])["entries"]
        return entries


def whole(path: Path) -> list[str]:
    """Return what SQLite says of every page, read beside the server, and of rows that refer to nothing."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA query_only=ON")
        verdict = [str(row[0]) for row in connection.execute("PRAGMA integrity_check")]
        return verdict + [str(row) for row in connection.execute("PRAGMA foreign_key_check")]


@contextmanager
def stage(disk: Path, link: Link, seed: int) -> Iterator[Stage]:
    """Have a server at hand until the block ends."""
    made = Stage(disk, link, random.Random(seed))
    try:
        yield made
    finally:
        made.close()
