"""Tells open desks who is there: at most once a second, only what changed, and each process its own desks."""

import logging
import threading
from collections.abc import Callable, Mapping
from typing import Final

from flask_socketio import SocketIO

from monreq.live.rooms import Room, Rooms

LOG = logging.getLogger(__name__)

PRESENCE: Final = "presence"
EVERY_S: Final = 1  # chosen: quick enough to be believed, slow enough to be calm

Draw = Callable[[str, str], Mapping[str, str]]
"""Draws the places of a show's presence, in a language."""


class PresenceTeller:
    """Looks once a second at the shows whose desks are connected here.

    Presence has no revision: what is pushed is always whole, so that the next push heals one that was lost.

    Args:
        socketio: Whose background task it is.
        rooms: Who listens.
        draw: Draws what they see.
    """

    def __init__(self, socketio: SocketIO, rooms: Rooms, draw: Draw) -> None:
        self._socketio = socketio
        self._rooms = rooms
        self._draw = draw
        self._told: dict[Room, Mapping[str, str]] = {}
        self._is_over = threading.Event()
        self._was_noted = False

    def start(self) -> None:
        """Begin to tell in the background."""
        self._socketio.start_background_task(self._run)

    def stop(self) -> None:
        """End within a second."""
        self._is_over.set()

    def tell(self) -> None:
        """Tell what changed since the last time."""
        desks = self._rooms.desks()
        self._told = {room: self._told[room] for room in desks if room in self._told}
        for room in desks:
            drawn = self._draw(room.show_id, room.language)
            if self._told.get(room) != drawn:
                self._told[room] = drawn
                self._rooms.push_here(room, PRESENCE, {"fragments": drawn})

    def _run(self) -> None:
        while not self._is_over.is_set():
            try:
                self.tell()
            except Exception:
                if not self._was_noted:
                    LOG.exception("presence could not be told; it goes on, and this is not noted again")
                self._was_noted = True
            self._socketio.sleep(EVERY_S)
