"""Looks, every few seconds, at what no request would notice; one look that fails stops no other."""

import logging
import threading
from collections.abc import Callable, Sequence
from typing import Final, Protocol

from flask_socketio import SocketIO

LOG = logging.getLogger(__name__)

EVERY_S: Final = 2.0  # chosen: the desk is told within five seconds
_GOODBYE_S: Final = 2.0  # chosen: a look takes milliseconds, a copy a little longer


class Runs(Protocol):
    """What runs in the background."""

    def start(self) -> None:
        """Begin."""

    def stop(self) -> None:
        """End."""


def started(*tasks: Runs) -> tuple[Runs, ...]:
    """Begin with all of them, in order."""
    for one in tasks:
        one.start()
    return tasks


class Watching:
    """Repeats looks in the background."""

    def __init__(
        self, socketio: SocketIO, looks: Sequence[Callable[[], None]], every_s: float = EVERY_S
    ) -> None:
        self._socketio, self._looks, self._every_s = socketio, looks, every_s
        self._is_over = threading.Event()
        self._task: threading.Thread | None = None
        self._failing: set[int] = set()

    def start(self) -> None:
        """Begin."""
        self._task = self._socketio.start_background_task(self._run)

    def stop(self) -> None:
        """End; what is being looked at is waited for."""
        self._is_over.set()
        if self._task is not None:
            self._task.join(_GOODBYE_S)

    def look(self) -> None:
        """Look at everything once, in the caller's thread."""
        for number, one in enumerate(self._looks):
            try:
                one()
            except Exception:
                if number not in self._failing:
                    self._failing.add(number)
                    LOG.exception("a look failed; it is not noted again until it has succeeded")
            else:
                self._failing.discard(number)

    def _run(self) -> None:
        while not self._is_over.wait(self._every_s):
            self.look()
