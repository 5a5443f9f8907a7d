"""How open pages are told: of commits here and elsewhere, of time that passes, of who is there, and of what is wrong."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from flask import Flask
from flask_socketio import SocketIO

from monreq import drawing
from monreq.config import Config
from monreq.live.announcer import Announcer
from monreq.live.catching_up import CatchingUp
from monreq.live.messenger import Messenger
from monreq.live.notices import NoticePusher
from monreq.live.presence import Presence, signs_for
from monreq.live.presence_teller import PresenceTeller
from monreq.live.rooms import Rooms
from monreq.live.watching import Runs, Watching
from monreq.services.health import Health
from monreq.services.ports import Change
from monreq.services.shows import Shows
from monreq.services.standing import MessengerWatch
from monreq.storage.engine import file_of
from monreq.web.desk_name import desk_name_in
from monreq.web.places import PlaceRenderer

_CAUGHT_UP_EVERY_S: Final = 0.5
"""Chosen: what another worker stored is known here within a second, whatever fails between."""


@dataclass(frozen=True, slots=True)
class Parts:
    """What it is put together from."""

    config: Config
    app: Flask
    socketio: SocketIO
    renderer: PlaceRenderer
    shows: Shows
    health: Health


class Telling:
    """All that tells open pages.

    Attributes:
        presence: Who is there.
        looks: What is to be looked at every few seconds.
        runs: What runs in the background.
    """

    def __init__(self, parts: Parts, rooms: Rooms) -> None:
        app, socketio, renderer, shows = parts.app, parts.socketio, parts.renderer, parts.shows
        self._announcer = Announcer(
            socketio,
            rooms,
            shows,
            drawing.desk_fragments(app, renderer),
            drawing.phone_fragments(app, renderer),
        )
        rooms.told_to(self._announcer.pages_begin_at)
        self.presence = Presence(signs_for(parts.config.redis_url), shows.now_ms)
        rooms.attended_by(self.presence, desk_name_in)
        self.looks: list[Callable[[], None]] = [
            NoticePusher(parts.health, rooms, shows.seen, drawing.notice_fragments(app, renderer)),
            PresenceTeller(rooms, drawing.presence_fragments(app, renderer, shows, self.presence)),
        ]
        self._messenger: Messenger | None = None
        self.runs: list[Runs] = [
            self._announcer,
            *self._beside_others(parts, CatchingUp(rooms, shows.state, self._announcer.catch_up)),
        ]

    def tell(self, change: Change) -> None:
        """Have pages told of a commit, at other workers too."""
        self._announcer.tell(change)
        if self._messenger is not None:
            self._messenger.tell(change.after.id)

    def _beside_others(self, parts: Parts, catching_up: CatchingUp) -> list[Runs]:
        """Return what keeps up with other processes on the same database, where there may be some."""
        redis_url = parts.config.redis_url
        if redis_url is None and file_of(parts.config.database_url) is not None:
            return []
        looking = Watching(parts.socketio, [catching_up], _CAUGHT_UP_EVERY_S)
        if redis_url is None:
            return [looking]
        self._messenger = Messenger(parts.socketio, redis_url, catching_up.with_show)
        asking = Watching(parts.socketio, [MessengerWatch(parts.health, self._messenger.answers)])
        return [looking, self._messenger, asking]
