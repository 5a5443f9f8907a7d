"""Phones that ask and a desk that answers, as many and as fast as wanted, with a note of when each step was done."""

import asyncio
import secrets
import time
from collections.abc import Callable, Iterable
from contextlib import AsyncExitStack
from dataclasses import dataclass, field
from itertools import count, cycle, islice
from typing import Any, Self

import aiohttp

from tests.bench.load_client import PATIENCE_S, Heard, Live, post
from tests.bench.load_servers import CROWDS, MIXES, SOURCES, Server

_HANDSHAKES = 20
_SETTLE_S = 0.5
_FAILURES = (aiohttp.ClientError, TimeoutError, ConnectionError)


@dataclass(slots=True)
class Note:
    """What became of one request, each time in seconds of the same clock.

    Attributes:
        due_s: When it was to be sent; a client that is late counts against the server that held it up.
        heard: What its phone heard of it: revision and time.
        decision: The revision of its answer.
    """

    mix: str
    due_s: float
    acked_s: float | None = None
    at_desk_s: float | None = None
    decided_s: float | None = None
    decision: int | None = None
    heard: list[tuple[int, float]] = field(default_factory=list)
    is_at_desk: asyncio.Event = field(default_factory=asyncio.Event)

    @property
    def at_phone_s(self) -> float | None:
        """When its phone heard of the answer."""
        if self.decision is None:
            return None
        return next((at_s for revision, at_s in self.heard if revision >= self.decision), None)


@dataclass
class Stretch:
    """A while of load.

    Attributes:
        took_s: How long it took until the last answer. [s]
        failures: What went wrong, in words.
    """

    notes: dict[str, Note] = field(default_factory=dict)
    took_s: float = 0.0
    failures: list[str] = field(default_factory=list)

    def to_desk_ms(self) -> list[float]:
        """Return how long each request took to the desk. [ms]."""
        return _spans_ms((note.due_s, note.at_desk_s) for note in self.notes.values())

    def to_phone_ms(self) -> list[float]:
        """Return how long each answer took to its phone. [ms]."""
        return _spans_ms((note.decided_s, note.at_phone_s) for note in self.notes.values())

    def per_s(self) -> float:
        """Return how many requests a second were asked and answered."""
        return sum(note.decision is not None for note in self.notes.values()) / self.took_s

    def unheard(self) -> int:
        """Return how many requests were taken, and never came to the desk."""
        return sum(note.at_desk_s is None for note in self.notes.values() if note.acked_s is not None)


def _spans_ms(pairs: Iterable[tuple[float | None, float | None]]) -> list[float]:
    return [(end_s - start_s) * 1000 for start_s, end_s in pairs if start_s is not None and end_s is not None]


class Driver:
    """A desk and one phone for each mix, connected to a server for as long as the block lasts."""

    def __init__(self, server: Server) -> None:
        self._server = server
        self._stretch = Stretch()
        self._taken: set[str] = set()
        self._numbers = count()
        self._phones: dict[str, Live] = {}
        self._stack = AsyncExitStack()

    async def __aenter__(self) -> Self:
        """Connect."""
        connector = aiohttp.TCPConnector(limit=0)
        self._http = await self._stack.enter_async_context(aiohttp.ClientSession(connector=connector))
        self._desk = await self._live("/desk", self._server.desk, self._at_desk)
        for mix in MIXES:
            self._phones[mix] = await self._live("/phone", self._server.phones[mix], self._at_phone)
        return self

    async def __aexit__(self, *_: object) -> None:
        """Disconnect."""
        await self._stack.aclose()

    @property
    def taken(self) -> frozenset[str]:
        """The ids of all requests that the server said it took."""
        return frozenset(self._taken)

    async def add_listeners(self, number: int) -> None:
        """Connect phones that never ask, and whose mixes nobody asks for."""
        gate = asyncio.Semaphore(_HANDSHAKES)

        async def one(mix: str) -> None:
            async with gate:
                await self._live("/phone", self._server.phones[mix], lambda _: None)

        await asyncio.gather(*(one(mix) for mix in islice(cycle(CROWDS), number)))
        await asyncio.sleep(_SETTLE_S)

    async def offered(self, per_s: float, seconds: float, *, by_socket: bool = False) -> Stretch:
        """Send at a steady rate, whether or not the server keeps up."""
        stretch, began_s = self._begin()
        tasks = []
        for place in range(round(per_s * seconds)):
            due_s = began_s + place / per_s
            await asyncio.sleep(max(0.0, due_s - time.perf_counter()))
            tasks.append(asyncio.create_task(self._cycle(due_s, by_socket=by_socket)))
        await asyncio.gather(*tasks)
        return await self._end(stretch, began_s)

    async def saturated(self, at_once: int, seconds: float, *, by_socket: bool = False) -> Stretch:
        """Keep so many requests on their way at any time, each until it is answered."""
        stretch, began_s = self._begin()

        async def worker() -> None:
            while (now_s := time.perf_counter()) < began_s + seconds:
                await self._cycle(now_s, by_socket=by_socket)

        await asyncio.gather(*(worker() for _ in range(at_once)))
        return await self._end(stretch, began_s)

    async def _live(self, namespace: str, token: str, hear: Callable[[Heard], None]) -> Live:
        live = await Live(self._http, namespace, hear).open(self._server.url, token)
        self._stack.push_async_callback(live.close)
        return live

    def _begin(self) -> tuple[Stretch, float]:
        self._stretch = Stretch()
        return self._stretch, time.perf_counter()

    async def _end(self, stretch: Stretch, began_s: float) -> Stretch:
        stretch.took_s = time.perf_counter() - began_s
        await asyncio.sleep(_SETTLE_S)
        self._taken.update(one for one, note in stretch.notes.items() if note.acked_s is not None)
        return stretch

    async def _cycle(self, due_s: float, *, by_socket: bool) -> None:
        """Have one request asked, heard at the desk, and answered from there."""
        try:
            await self._ask_and_answer(due_s, by_socket=by_socket)
        except _FAILURES as failure:
            self._stretch.failures.append(repr(failure))

    async def _ask_and_answer(self, due_s: float, *, by_socket: bool) -> None:
        said = self._next_request()
        note = self._stretch.notes[said["client_id"]] = Note(said["mix"], due_s)
        answer = await self._ask(said, by_socket=by_socket)
        note.acked_s = time.perf_counter()
        await asyncio.wait_for(note.is_at_desk.wait(), PATIENCE_S)
        if answer["state"] == "waiting":
            note.decided_s = time.perf_counter()
            done = {"requests": [answer["request"]], "outcome": "done"}
            note.decision = (await self._answer(done, by_socket=by_socket))["revision"]

    def _next_request(self) -> dict[str, Any]:
        """Return a request: mixes in turns, their sources in turns, first all up and then all down again."""
        of_mix, mix = divmod(next(self._numbers), len(MIXES))
        round_of_mix, source = divmod(of_mix, len(SOURCES))
        return {
            "client_id": secrets.token_hex(16),
            "mix": MIXES[mix],
            "kind": "level",
            "source": SOURCES[source],
            "change_db": -1 if round_of_mix % 2 else 1,
        }

    async def _ask(self, said: dict[str, Any], *, by_socket: bool) -> Any:
        mix = said["mix"]
        if by_socket:
            return await self._phones[mix].emit("ask", said)
        url = f"{self._server.url}/api/v1/mixes/{mix}/requests"
        body = {name: value for name, value in said.items() if name != "mix"}
        return await post(self._http, url, self._server.phones[mix], body)

    async def _answer(self, done: dict[str, Any], *, by_socket: bool) -> Any:
        if by_socket:
            return await self._desk.emit("answer", done)
        return await post(self._http, f"{self._server.url}/api/v1/decisions", self._server.desk, done)

    def _at_desk(self, heard: Heard) -> None:
        for note in self._notes(heard):
            if note.at_desk_s is None:
                note.at_desk_s = heard.at_s
                note.is_at_desk.set()

    def _at_phone(self, heard: Heard) -> None:
        for note in self._notes(heard):
            note.heard.append((heard.revision, heard.at_s))

    def _notes(self, heard: Heard) -> list[Note]:
        notes = self._stretch.notes
        return [notes[one] for one in heard.client_ids if one in notes]
