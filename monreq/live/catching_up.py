"""Catching up: what other processes stored is found in the log, whether or not anything told of it."""

from collections.abc import Callable

from monreq.domain.show import Show
from monreq.live.rooms import Rooms


class CatchingUp:
    """Ends connections whose code was replaced elsewhere, and has pages told of what was stored elsewhere.

    Args:
        rooms: Who listens.
        state: Returns a show as its log stands now.
        tell: Is given the state that was found.
    """

    def __init__(self, rooms: Rooms, state: Callable[[str], Show], tell: Callable[[Show], None]) -> None:
        self._rooms, self._state, self._tell = rooms, state, tell

    def __call__(self) -> None:
        """Look at every show that somebody here listens to."""
        for show_id in sorted(self._rooms.shows()):
            self.with_show(show_id)

    def with_show(self, show_id: str) -> None:
        """Look at one show, if anybody here listens to it."""
        if show_id in self._rooms.shows():
            show = self._state(show_id)
            self._rooms.cut(show)
            self._tell(show)
