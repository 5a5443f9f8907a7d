"""A small app with live connections, on a log in memory: two mixes, and fragments that say only what is theirs.

A token is a subject and the generation of its code, such as `desk@0` or `front@1`.
"""

from collections.abc import Mapping
from itertools import count
from typing import Any

from flask import Flask, session
from flask_socketio import SocketIO

from monreq.config import AsyncMode
from monreq.domain import commands as c
from monreq.domain.refusals import UnknownCode
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind
from monreq.domain.show import Show
from monreq.live.announcer import Announcer
from monreq.live.rooms import DESK, Room, Rooms, Voice
from monreq.live.wire import WIRE
from monreq.services.shows import Shows
from tests.support.memory_log import InlineWriter, MemoryLog

SHOW = "show1"
MIXES = {"front": "singer", "ears": "bass"}


class LiveHouse:
    """The app, put together as the program does it.

    Attributes:
        drawn: The fragments that were drawn, in order, as (room, before, after).
        said: The languages that they were drawn in, in order.
        fault: Raised by every drawing while it is set.
    """

    def __init__(self, mode: AsyncMode = "threading", **options: Any) -> None:
        self.app = Flask(__name__)
        self.app.secret_key = "for tests only"
        self.socketio = SocketIO(
            self.app,
            async_mode=mode,
            async_handlers=False,
            manage_session=False,
            logger=WIRE,
            engineio_logger=WIRE,
            **options,
        )
        self.drawn: list[tuple[str, int, int]] = []
        self.said: list[str] = []
        self.fault: Exception | None = None
        self._times = count(1_000)
        self._waited_ms = 0
        self.shows = Shows(MemoryLog(), InlineWriter(), self._now_ms, lambda one: self.announcer.tell(one))
        self.rooms = Rooms(
            self.socketio,
            admit,
            lambda show: self.shows.as_of_now(self.shows.state(show)),
            Voice(lambda _, said: str(said or "en")),
        )
        self.announcer = Announcer(self.socketio, self.rooms, self.shows, self._draw_desk, self._draw_phone)
        self._set_up()

    def do(self, command: c.Command) -> int:
        """Have a command stored; returns the revision right after it."""
        return self.shows.submit(SHOW, command).revision

    def wait(self, seconds: float) -> None:
        """Let time pass."""
        self._waited_ms += round(seconds * 1000)

    def _now_ms(self) -> int:
        return next(self._times) + self._waited_ms

    def ask(self, mix: str, change: int = 30, client_id: str = "") -> int:
        return self.do(c.AskForLevel(mix, MIXES[mix], "voice", change, client_id=client_id))

    def _set_up(self) -> None:
        self.shows.open(SHOW, c.OpenShow("Evening"))
        self.do(c.PutSource(Source("voice", "Voice", SourceKind.OPEN_MIC)))
        for mix, musician in MIXES.items():
            self.do(c.PutMusician(Musician(musician, musician.title())))
            self.do(c.PutMix(Mix(mix, mix.title(), Output.WEDGE, (musician,))))
            self.do(c.PutSend(mix, "voice", Setting(-200, 0, is_on=True)))
        self.announcer.announce_waiting()
        self.drawn.clear()

    def _draw_desk(self, before: Show, after: Show, language: str) -> Mapping[str, str]:
        self._note("desk", before, after)
        self.said.append(language)
        return {"queue": f"{len(after.open_requests)} waiting"}

    def _draw_phone(self, before: Show, after: Show, mix: str, language: str) -> Mapping[str, str]:
        self._note(mix, before, after)
        self.said.append(language)
        waiting = [one for one in after.open_requests.values() if one.key.mix == mix]
        return {mix: f"{len(waiting)} waiting"}

    def _note(self, room: str, before: Show, after: Show) -> None:
        if self.fault is not None:
            raise self.fault
        self.drawn.append((room, before.revision, after.revision))


def admit(namespace: str, auth: Mapping[str, Any], cookie: Mapping[str, Any]) -> Room:
    """Admit by a token, or by the cookie and the mix that the page names."""
    token = auth.get("token")
    if token is None:
        token = cookie.get("admissions", {}).get("desk" if namespace == DESK else auth.get("mix"))
    if token == "fault":
        raise RuntimeError("made to fail")
    subject, _, generation = str(token).partition("@")
    if subject not in ("desk", *MIXES):
        raise UnknownCode
    return Room(SHOW, None if subject == "desk" else subject, int(generation))


def put_admissions(house: LiveHouse) -> None:
    """Add a page that puts the desk and one mix into the cookie."""

    @house.app.get("/admit/<mix>")
    def let_in(mix: str) -> str:
        session["admissions"] = {"desk": "desk@0", mix: f"{mix}@0"}
        return mix
