"""Rooms: which live connections hear of what, by whose right, and the end of those whose code was replaced."""

import logging
import threading
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, Protocol

from flask import request, session
from flask_socketio import Namespace, SocketIO, join_room, leave_room
from socketio.exceptions import ConnectionRefusedError as Refused

from monreq.domain.refusals import CodeReplacedSince, Refusal, UnknownCode
from monreq.domain.show import Show
from monreq.live.capacity import Code, refuse_one_too_many

LOG = logging.getLogger(__name__)

DESK: Final = "/desk"
PHONE: Final = "/phone"
CHANGED: Final = "changed"
HERE: Final = "here"
CLIENT_LEFT: Final = "client disconnect"  # what Socket.IO calls the end that a page itself brings about

_ONLY_HEARS: Final = {
    "error": "unknown_event",
    "message": "Nothing is asked over this connection: it only hears.",
}
_FAILED: Final = {
    "error": "failed",
    "message": "Something went wrong here. It was noted: load the page again.",
}


class Admitted(Protocol):
    """What a connection was admitted to: a mix, or the desk (None), of a show, by a code of some generation."""

    @property
    def show_id(self) -> str:
        """The show."""

    @property
    def mix(self) -> str | None:
        """The mix; None for the desk."""

    @property
    def generation(self) -> int:
        """How often the code had been replaced."""


Speak = Callable[[str, object], str]
"""Tells the language of a new connection, from its namespace and what its page said of it."""


class Attends(Protocol):
    """Takes what pages say of themselves, and the end of their connections."""

    def here(self, sid: str, show_id: str, mix: str | None, said: Mapping[str, Any], name: str = "") -> None:
        """Take a page's word."""

    def left(self, sid: str, *, said_goodbye: bool) -> None:
        """Take note of a connection's end."""


Admit = Callable[[str, Mapping[str, Any], Mapping[str, Any]], Admitted]
"""Reads a namespace, what the page sent as `auth`, and its cookie; raises a `Refusal`."""


@dataclass(frozen=True, slots=True)
class Voice:
    """How live connections are spoken to.

    Attributes:
        speak: Tells in which language a connection hears.
        say: Says what a refusal tells a person.
    """

    speak: Speak = lambda _namespace, _said: "en"
    say: Callable[[Refusal], str] = str


@dataclass(frozen=True, slots=True)
class Room:
    """Those who see the same page in the same language, and were admitted by the same code.

    The generation is part of it: whoever holds an old code hears nothing, in whichever process it is connected.
    """

    show_id: str
    mix: str | None
    generation: int
    language: str = "en"

    @classmethod
    def of(cls, show: Show, mix: str | None, language: str = "en") -> "Room":
        """Return the room of a mix, or of the desk (None), in a language, as its code stands now."""
        return cls(show.id, mix, show.generation(mix), language)

    @property
    def namespace(self) -> str:
        """The Socket.IO namespace that it is in."""
        return DESK if self.mix is None else PHONE

    @property
    def name(self) -> str:
        """Its name there."""
        return "/".join((self.show_id, self.mix or "", str(self.generation), self.language))

    def is_valid(self, show: Show) -> bool:
        """Tell whether its code still opens anything."""
        is_there = self.mix is None or self.mix in show.mixes
        return is_there and self.generation == show.generation(self.mix)

    def version(self, show: Show) -> dict[str, int]:
        """Return what a page in it that shows this state is at: the revision, and on a desk as of when it is told."""
        if self.mix is None:
            return {"revision": show.revision, "as_of": show.at_ms}
        return {"revision": show.changed_at.get(self.mix, show.revision)}


class Rooms:
    """The live connections of this process.

    Args:
        socketio: With `manage_session` off: nothing here writes a session.
        admit: Tells who a connection speaks for.
        state: Returns a show as its log stands now, and as of now.
        voice: In which languages, and how, it speaks.
    """

    def __init__(
        self,
        socketio: SocketIO,
        admit: Admit,
        state: Callable[[str], Show],
        voice: Voice | None = None,
    ) -> None:
        self.voice = voice or Voice()
        self._socketio = socketio
        self._admit = admit
        self._state = state
        self._attends: Attends | None = None
        self._name_of: Callable[[Mapping[str, Any]], str] = lambda _cookie: ""
        self._first_told: Callable[[Show], None] = lambda _show: None
        self._lock = threading.Lock()
        self._rooms: dict[str, Room] = {}
        for namespace in (DESK, PHONE):
            socketio.on_namespace(_Door(namespace, self))
        socketio.on_error_default(_failed)

    def of(self, show: Show, mix: str | None) -> list[Room]:
        """Return the rooms of a mix, or of the desk (None), one for each language that somebody may hear it in."""
        with self._lock:
            heard = {
                room.language for room in self._rooms.values() if (room.show_id, room.mix) == (show.id, mix)
            }
        return [Room.of(show, mix, language) for language in sorted(heard)]

    def attended_by(self, attends: Attends, name_of: Callable[[Mapping[str, Any]], str]) -> None:
        """Pass what pages say of themselves on, a desk's with its name out of its cookie."""
        self._attends, self._name_of = attends, name_of

    def told_to(self, first_told: Callable[[Show], None]) -> None:
        """Say who takes note of the state that pages begin at."""
        self._first_told = first_told

    def desks(self) -> list[Room]:
        """Return the rooms of desks that are connected to this process."""
        with self._lock:
            return sorted(
                {room for room in self._rooms.values() if room.mix is None}, key=lambda one: one.name
            )

    def push_here(self, room: Room, event: str, payload: Mapping[str, object]) -> None:
        """Send an event to those in a room who are connected to this process."""
        untyped: Any = self._socketio
        untyped.emit(event, payload, namespace=room.namespace, to=room.name, ignore_queue=True)

    def push(self, room: Room, payload: Mapping[str, object]) -> None:
        """Send a change to everybody in a room."""
        self._socketio.emit(CHANGED, payload, namespace=room.namespace, to=room.name)

    def shows(self) -> set[str]:
        """Return the shows that somebody here listens to."""
        with self._lock:
            return {room.show_id for room in self._rooms.values()}

    def cut(self, show: Show) -> None:
        """End the connections of a show whose code opens nothing any more."""
        over: dict[Room, list[str]] = {}
        with self._lock:
            for sid, room in self._rooms.items():
                if room.show_id == show.id and not room.is_valid(show):
                    over.setdefault(room, []).append(sid)
        for room, sids in over.items():
            self._socketio.emit("revoked", {}, namespace=room.namespace, to=room.name)
            for sid in sids:
                _server(self._socketio).disconnect(sid, namespace=room.namespace)

    def enter(self, namespace: str, sid: str, auth: Mapping[str, Any]) -> None:
        """Admit a connection, once, and tell it the revision from which on it hears of everything.

        Raises:
            Refusal: It may not listen.
        """
        admitted = self._admit(namespace, auth, session)
        language = self.voice.speak(namespace, auth.get("language"))
        room = Room(admitted.show_id, admitted.mix, admitted.generation, language)
        if room.namespace != namespace:
            raise UnknownCode
        with self._lock:
            refuse_one_too_many((room.show_id, room.mix), self._codes())
            self._rooms[sid] = room
        join_room(room.name, sid, namespace)
        # Read after joining: what is committed from here on is pushed to this room.
        show = self._state(room.show_id)
        if not room.is_valid(show):
            self.leave(sid)
            raise CodeReplacedSince
        self._first_told(show)
        self._socketio.emit("at", room.version(show), namespace=namespace, to=sid)

    def heard(self, sid: str, said: Mapping[str, Any]) -> None:
        """Pass on what an admitted page says of itself."""
        with self._lock:
            room = self._rooms.get(sid)
        if room is not None and self._attends is not None:
            name = self._name_of(session) if room.mix is None else ""
            self._attends.here(sid, room.show_id, room.mix, said, name)

    def leave(self, sid: str, *, said_goodbye: bool = False) -> None:
        """Forget a connection."""
        if self._attends is not None:
            self._attends.left(sid, said_goodbye=said_goodbye)
        with self._lock:
            room = self._rooms.pop(sid, None)
        if room is not None:
            leave_room(room.name, sid, room.namespace)

    def _codes(self) -> Iterator[Code]:
        return ((room.show_id, room.mix) for room in self._rooms.values())

    def knows(self, sid: str) -> bool:
        """Tell whether a connection was admitted."""
        with self._lock:
            return sid in self._rooms


class _Door(Namespace):
    """One namespace: it lets in and out, and takes nothing."""

    def __init__(self, namespace: str, rooms: Rooms) -> None:
        super().__init__(namespace)
        self._path = namespace
        self._listeners = rooms

    def trigger_event(self, event: str, *args: Any) -> Any:
        """Answer whatever is not the coming or going of a connection, so that nobody waits for an answer."""
        is_first_connect = event == "connect" and not self._listeners.knows(args[0])
        if is_first_connect or event in ("disconnect", HERE):
            return super().trigger_event(event, *args)
        return _ONLY_HEARS

    def on_connect(self, auth: object = None) -> None:
        """Let a connection in, or say why not."""
        told = auth if isinstance(auth, Mapping) else {}
        try:
            self._listeners.enter(self._path, _sid(), told)
        except Refusal as refusal:
            said = self._listeners.voice.say(refusal)
            raise Refused(said, {"error": refusal.code, "message": said}) from refusal

    def on_here(self, said: object = None) -> None:
        """Hear that a page is there."""
        if isinstance(said, Mapping):
            self._listeners.heard(_sid(), said)

    def on_disconnect(self, reason: object = None) -> None:
        """Let it go."""
        self._listeners.leave(_sid(), said_goodbye=reason == CLIENT_LEFT)


def _failed(error: BaseException) -> Mapping[str, str]:
    """Answer for a handler that raised; without an answer its page would wait for ever."""
    LOG.error("a live event failed", exc_info=error)
    event: Any = request
    if event.event["message"] == "connect":
        raise Refused(_FAILED["message"], _FAILED) from error
    return _FAILED


# The published types leave these attributes out.
def _sid() -> str:
    untyped: Any = request
    return str(untyped.sid)


def _server(socketio: SocketIO) -> Any:
    untyped: Any = socketio
    return untyped.server
