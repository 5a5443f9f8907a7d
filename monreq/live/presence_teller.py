"""Tells open desks who is there: only what changed since the last look, and each process its own desks."""

from collections.abc import Callable, Mapping
from typing import Final

from monreq.live.rooms import Room, Rooms

PRESENCE: Final = "presence"

Draw = Callable[[str, str], Mapping[str, str]]
"""Draws the places of a show's presence, in a language."""


class PresenceTeller:
    """One look: what a desk was told last, against who is there now; however much happened since, it is one push.

    Presence has no revision: what is pushed is always whole, so that the next push heals one that was lost.

    Args:
        rooms: Who listens.
        draw: Draws what they see.
    """

    def __init__(self, rooms: Rooms, draw: Draw) -> None:
        self._rooms = rooms
        self._draw = draw
        self._told: dict[Room, Mapping[str, str]] = {}

    def __call__(self) -> None:
        """Tell each desk what changed since the last look."""
        desks = self._rooms.desks()
        self._told = {room: self._told[room] for room in desks if room in self._told}
        for room in desks:
            drawn = self._draw(room.show_id, room.language)
            if self._told.get(room) != drawn:
                self._told[room] = drawn
                self._rooms.push_here(room, PRESENCE, {"fragments": drawn})
