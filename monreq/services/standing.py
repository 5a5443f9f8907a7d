"""Looks at what surrounds the database: the address that codes carry, the room on the disk, the clock."""

from collections.abc import Callable, Collection
from typing import Final

from monreq.services.health import Health, Trouble

ENOUGH_BYTES: Final = 50_000_000  # chosen: an evening takes less than a tenth of it
_A_JUMP_S: Final = (
    30.0  # chosen: above what a clock is set by from the network, below what a person sleeps on
)
_TOLD_S: Final = 600.0  # chosen: long enough to be read between songs
_MEGABYTE: Final = 1_000_000


class AddressWatch:
    """Tells when codes that were printed lead to an address that this laptop no longer has.

    Args:
        printed: Returns the host that the last printed codes carry; None for none, or for a name.
        present: Returns this laptop's addresses, the one that phones most likely reach first.
    """

    def __init__(
        self, health: Health, printed: Callable[[], str | None], present: Callable[[], Collection[str]]
    ) -> None:
        self._health, self._printed, self._present = health, printed, present

    def __call__(self) -> None:
        """Look once."""
        printed, present = self._printed(), self._present()
        if printed is None or printed in present:
            self._health.clear(Trouble.ADDRESS)
        else:
            self._health.put(Trouble.ADDRESS, printed, next(iter(present), ""))


class MessengerWatch:
    """Tells while what joins several workers does not answer.

    Args:
        answers: Asks it, and waits a second at most.
    """

    def __init__(self, health: Health, answers: Callable[[], bool]) -> None:
        self._health, self._answers = health, answers

    def __call__(self) -> None:
        """Look once."""
        if self._answers():
            self._health.clear(Trouble.REDIS)
        else:
            self._health.put(Trouble.REDIS)


class DiskWatch:
    """Tells when little room is left.

    Args:
        free: Returns the room on the disk. [bytes]
    """

    def __init__(self, health: Health, free: Callable[[], int]) -> None:
        self._health, self._free = health, free

    def __call__(self) -> None:
        """Look once; a disk that does not answer is told by whoever needs it."""
        try:
            free = self._free()
        except OSError:
            return
        if free < ENOUGH_BYTES:
            self._health.put(Trouble.DISK_LOW, str(free // _MEGABYTE))
        else:
            self._health.clear(Trouble.DISK_LOW)


class ClockWatch:
    """Tells once when the wall clock went another way than time did: the laptop slept, or its clock was set.

    Args:
        wall_ms: The time. [ms since 1970, UTC]
        monotonic_s: A clock that only counts on. [s]
    """

    def __init__(self, health: Health, wall_ms: Callable[[], int], monotonic_s: Callable[[], float]) -> None:
        self._health, self._wall_ms, self._monotonic_s = health, wall_ms, monotonic_s
        self._apart_s = self._difference_s()
        self._until_s: float | None = None

    def __call__(self) -> None:
        """Look once."""
        apart_s = self._difference_s()
        jump_s, self._apart_s = apart_s - self._apart_s, apart_s
        if abs(jump_s) >= _A_JUMP_S:
            self._health.put(Trouble.CLOCK, f"{jump_s:+.0f}")
            self._until_s = self._monotonic_s() + _TOLD_S
        elif self._until_s is not None and self._monotonic_s() >= self._until_s:
            self._health.clear(Trouble.CLOCK)
            self._until_s = None

    def _difference_s(self) -> float:
        return self._wall_ms() / 1000 - self._monotonic_s()
