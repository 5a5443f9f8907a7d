"""When a copy of everything is made: every few minutes if something changed, at each soundcheck mark and closing."""

import threading
from collections.abc import Callable
from typing import Final

from monreq.domain.events import ShowClosedForGood, SoundcheckMarked
from monreq.services.health import Health, Trouble
from monreq.services.ports import Change

EVERY_S: Final = 180.0  # chosen: what a player remembers having asked for
_AFTER_FAILURE_S: Final = 5.0  # chosen: once the disk is cleared, the desk is told soon

_AT_ONCE: Final = (SoundcheckMarked, ShowClosedForGood)


class CopyFailed(Exception):  # noqa: N818 - said to a person
    """A copy that was not made; its text is one sentence."""


class IdleFolding:
    """Has the database's file hold all that was stored, as soon as nothing more is stored for a moment.

    Args:
        fold_in: Does it, and tells whether all of it is in.
        state: Anything that differs once something was stored.
    """

    def __init__(self, fold_in: Callable[[], bool], state: Callable[[], object]) -> None:
        self._fold_in, self._state = fold_in, state
        self._seen = self._folded = state()

    def __call__(self) -> None:
        """Look once."""
        now = self._state()
        if now == self._seen != self._folded and self._fold_in():
            self._folded = now
        self._seen = now


class CopyKeeper:
    """Has copies made.

    Args:
        make: Makes one and returns; raises CopyFailed.
        state: Anything that differs once something was stored.
        monotonic_s: A clock that only counts on. [s]
    """

    def __init__(
        self,
        health: Health,
        make: Callable[[], None],
        state: Callable[[], object],
        monotonic_s: Callable[[], float],
    ) -> None:
        self._health, self._make, self._state, self._now = health, make, state, monotonic_s
        self._is_wanted = threading.Event()
        self._copied, self._next_s = state(), monotonic_s() + EVERY_S

    def note(self, change: Change) -> None:
        """Take note of a commit: some are worth a copy at once."""
        if any(isinstance(one.event, _AT_ONCE) for one in change.recorded):
            self._is_wanted.set()

    def __call__(self) -> None:
        """Make a copy, if it is time for one."""
        is_due = self._now() >= self._next_s and self._state() != self._copied
        if not (is_due or self._is_wanted.is_set()):
            return
        self._is_wanted.clear()
        try:
            self._make()
        except CopyFailed as failed:
            self._health.put(Trouble.COPIES, str(failed))
            self._next_s = self._now() + _AFTER_FAILURE_S
            self._copied = None
        else:
            self._health.clear(Trouble.COPIES)
            self._next_s = self._now() + EVERY_S
            self._copied = self._state()
