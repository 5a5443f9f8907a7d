"""Pushes what is wrong with the laptop to every open desk, whenever that changes."""

from collections.abc import Callable, Mapping

from monreq.domain.show import Show
from monreq.live.rooms import CHANGED, Rooms
from monreq.services.health import Health, Notice


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

    def __call__(self) -> None:
        """Tell all of them if there is news; no revision moves by it."""
        notices = self._health.notices()
        if notices == self._told:
            return
        self._told = notices
        for room in self._rooms.desks():
            revision = self._seen(room.show_id).revision
            fragments = self._fragments(notices, room.language)
            payload = {"revision": revision, "after": revision, "client_ids": [], "fragments": fragments}
            self._rooms.push_here(room, CHANGED, payload)
