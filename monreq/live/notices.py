"""Pushes what is wrong with the laptop to every open desk, whenever that changes."""

from collections.abc import Callable, Mapping
from typing import Final

from monreq.domain.show import Show
from monreq.live.rooms import CHANGED, Rooms
from monreq.services.health import Health, Notice

_TOLD_AGAIN: Final = 5  # chosen: ten seconds, in which a page that was just being loaded has connected


class NoticePusher:
    """Tells open desks; a desk that opens later reads it with its page.

    Args:
        rooms: Who listens.
        seen: Returns a show as it was last known, without looking into its log.
        fragments: Draws notices in a language.
    """

    def __init__(
        self,
        health: Health,
        rooms: Rooms,
        seen: Callable[[str], Show],
        fragments: Callable[[tuple[Notice, ...], str], Mapping[str, str]],
    ) -> None:
        self._health, self._rooms, self._seen, self._fragments = health, rooms, seen, fragments
        self._told: tuple[Notice, ...] = ()
        self._times = 0

    def __call__(self) -> None:
        """Tell all of them if there is news, and a few times more; no revision moves by it."""
        notices = self._health.notices()
        if notices != self._told:
            self._told, self._times = notices, 1 + _TOLD_AGAIN
        if self._times == 0:
            return
        self._times -= 1
        for room in self._rooms.desks():
            revision = self._seen(room.show_id).revision
            fragments = self._fragments(notices, room.language)
            payload = {"revision": revision, "after": revision, "client_ids": [], "fragments": fragments}
            self._rooms.push_here(room, CHANGED, payload)
